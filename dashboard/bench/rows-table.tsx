import type { CsvAnswer } from "@leeward/shared-core/bench/csv-readings.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { coreText } from "../language/core-words.ts";
import { saveFile } from "./bench-api.ts";
import { furtherColumns, readSheet, type Sheet, sheetCsv } from "./sheet.ts";

const actions = ["set", "left", "redialled"] as const;

/** A column in words; one that is not ours stays as it was written. */
function columnText(name: string): string {
  return name in text.columns
    ? text.columns[name as keyof typeof text.columns]
    : name.replaceAll("_", " ");
}

/** The rows of a test, to type or to import; what is wrong stands below as one types. */
export function RowsTable(props: {
  sheet: Sheet;
  checked: CsvAnswer;
  onChange: (sheet: Sheet) => void;
}) {
  const { sheet, checked, onChange } = props;
  const change = (row: number, column: number, cell: string) =>
    onChange({
      ...sheet,
      rows: sheet.rows.map((cells, k) =>
        k === row ? cells.map((old, c) => (c === column ? cell : old)) : cells,
      ),
    });
  const load = async (file: File | undefined) => {
    const read = file ? readSheet(await file.text()) : null;
    if (read) onChange(read);
  };
  return (
    <>
      <p class="quiet">{text.rowsNote}</p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a table that scrolls must be reachable by keyboard */}
      <section class="bench-scroll" tabIndex={0} aria-label={text.rows}>
        <table class="bench-table">
          <thead>
            <tr>
              <th scope="col">{text.row}</th>
              {sheet.head.map((name) => (
                <th scope="col" key={name}>
                  {columnText(name)}
                </th>
              ))}
              <td />
            </tr>
          </thead>
          <tbody>
            {sheet.rows.map((cells, row) => (
              <tr key={row}>
                <th scope="row">{row + 1}</th>
                {sheet.head.map((name, column) => (
                  <td key={name} data-label={columnText(name)}>
                    {name === "action" && actions.some((one) => one === cells[column]) ? (
                      <select
                        aria-label={text.cell(columnText(name), row + 1)}
                        value={cells[column]}
                        onChange={(event) => change(row, column, event.currentTarget.value)}
                      >
                        {actions.map((action) => (
                          <option key={action} value={action}>
                            {text.actions[action]}
                          </option>
                        ))}
                      </select>
                    ) : (
                      <input
                        aria-label={text.cell(columnText(name), row + 1)}
                        value={cells[column]}
                        inputMode={/reference|gas|action/.test(name) ? "text" : "decimal"}
                        autoComplete="off"
                        onInput={(event) =>
                          change(row, column, event.currentTarget.value.replace(",", "."))
                        }
                      />
                    )}
                  </td>
                ))}
                <td>
                  <button
                    type="button"
                    class="button bench-remove"
                    aria-label={text.removeRow(row + 1)}
                    onClick={() =>
                      onChange({ ...sheet, rows: sheet.rows.filter((_cells, k) => k !== row) })
                    }
                  >
                    ×
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <div class="bench-buttons">
        <button
          type="button"
          class="button button-glove"
          onClick={() =>
            onChange({
              ...sheet,
              rows: [
                ...sheet.rows,
                sheet.head.map((name) =>
                  name === "action" ? (sheet.rows.length === 0 ? "set" : "redialled") : "",
                ),
              ],
            })
          }
        >
          {text.addRow}
        </button>
        <label class="button button-glove bench-file">
          {text.importCsv}
          <input
            type="file"
            accept=".csv,text/csv,text/plain"
            class="visually-hidden"
            onChange={(event) => void load(event.currentTarget.files?.[0])}
          />
        </label>
        <button
          type="button"
          class="button button-glove"
          onClick={() =>
            saveFile(new Blob([sheetCsv(sheet)], { type: "text/csv" }), "bench-test.csv")
          }
        >
          {text.exportCsv}
        </button>
        {furtherColumns(sheet).length > 0 && (
          <select
            class="button button-glove"
            aria-label={text.addColumn}
            value=""
            onChange={(event) => {
              const name = event.currentTarget.value;
              event.currentTarget.value = "";
              onChange({
                head: [...sheet.head, name],
                rows: sheet.rows.map((cells) => [...cells, ""]),
              });
            }}
          >
            <option value="">{text.addColumn}</option>
            {furtherColumns(sheet).map((name) => (
              <option key={name} value={name}>
                {columnText(name)}
              </option>
            ))}
          </select>
        )}
      </div>
      <Checks checked={checked} empty={sheetCsv(sheet).trim().split("\n").length < 2} />
    </>
  );
}

function Checks({ checked, empty }: { checked: CsvAnswer; empty: boolean }) {
  if (empty) return <p class="quiet">{text.noRowsYet}</p>;
  const faults = checked.ok
    ? checked.value.refused.map(({ row, why }) => text.rowFault(row, coreText(why)))
    : checked.faults.map(coreText);
  return (
    <div role="status" data-field="row-checks">
      {checked.ok && <p>{text.rowsGood(checked.value.readings.length)}</p>}
      {faults.length > 0 && (
        <ul class="problem bench-list">
          {faults.map((fault) => (
            <li key={fault}>{fault}</li>
          ))}
        </ul>
      )}
    </div>
  );
}
