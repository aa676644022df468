import type { LedgerRow } from "@leeward/shared-core/api/ledger.ts";
import { secondsInWords } from "../display/durations.ts";
import { moneyText } from "../display/money.ts";
import { DASH, fixed, flowFigure, TO, volumeRangeText, volumeText } from "../display/numbers.ts";
import type { AskedFigure, PageFigure, Rest } from "../display/page-figures.ts";
import type { UnitChoice } from "../display/units.ts";
import { ledgerWords as text } from "../language/ledger-words.ts";

/** What a row, or the sum of all, shows of gas used; each with what a tap on it explains. */
export interface RowFigure extends AskedFigure {
  field: string;
  value: string;
}

export type Summed = Pick<
  LedgerRow,
  "starts" | "gasOnS" | "litres" | "leakLitres" | "cost" | "mean"
>;

/** The figures of a row in the order of its columns. */
export function rowFigures(
  row: Summed,
  options: { currency: string | null; price: readonly Rest[]; units: UnitChoice },
): RowFigure[] {
  const { currency, price, units } = options;
  const { litres, mean } = row;
  const starts = fixed(row.starts, 0);
  const gasOn = secondsInWords(row.gasOnS);
  const used = volumeRangeText(litres, units);
  const figure = (
    field: string,
    about: PageFigure,
    label: string,
    value: string,
    rests: AskedFigure["rests"] = [],
    why: string | null = null,
  ): RowFigure => ({ field, figure: about, label, value, rests, why });
  return [
    figure("starts", "record-starts", text.starts, starts),
    figure("gas-on", "record-gas-on", text.gasOn, gasOn),
    figure("used", "record-used", text.used, used, [
      ...(mean ? [[text.flow, meanText(mean, units)] as const] : []),
      [text.gasOn, gasOn],
    ]),
    figure(
      "lost",
      "record-lost",
      text.lost,
      row.leakLitres === null ? DASH : volumeText(row.leakLitres, units),
      [],
      row.leakLitres === null ? text.noLoss : null,
    ),
    figure(
      "cost",
      "record-cost",
      text.cost,
      row.cost === null ? DASH : moneyText(row.cost, currency),
      [[text.used, used], ...price],
      row.cost === null ? text.noPrice : null,
    ),
    figure("flow", "record-mean", text.flow, mean ? meanText(mean, units) : DASH, [
      [text.used, used],
      [text.gasOn, gasOn],
    ]),
  ];
}

function meanText(mean: NonNullable<LedgerRow["mean"]>, units: UnitChoice): string {
  return `${flowFigure(mean.lpm, units)} ${units.flow} (${flowFigure(mean.low, units)}${TO}${flowFigure(mean.high, units)})`;
}

/** What the verdict of a row rests on. */
export function verdictFigure(row: LedgerRow): AskedFigure {
  return {
    figure: "record-verdict",
    label: text.shielding,
    rests: [
      [text.gasOn, secondsInWords(row.gasOnS)],
      [text.verdicts.short, secondsInWords(row.shortS)],
      [text.withoutData, secondsInWords(row.noDataS)],
    ],
  };
}
