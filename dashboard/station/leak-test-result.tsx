import type { LeakTestEstimate } from "@leeward/shared-core/estimation/estimate.ts";
import { leakSides, leakVerdict } from "../display/leak-test.ts";
import { leakTestWords as text } from "../language/leak-test-words.ts";
import "./leak-test.css";

/** What the whole result hangs on: not to be read past. */
const decisive: ReadonlySet<string> = new Set(["valve-taken-as-closed"]);

/** What a leak test found: the verdict, each side with its interval, and what narrows it. */
export function LeakTestResult({ test }: { test: LeakTestEstimate }) {
  const verdict = leakVerdict(test);
  const sides = leakSides(test);
  return (
    <div class="leak-result">
      <p class={verdict.bad ? "caution leak-verdict" : "leak-verdict"} data-field="leak-verdict">
        {verdict.text}
      </p>
      {sides.length > 0 && (
        <dl class="leak-sides">
          {sides.map((one) => (
            <div key={one.side} data-side={one.side}>
              <dt>{text.sides[one.side]}</dt>
              <dd>
                {one.value}
                {one.note && <span class="leak-note">{one.note}</span>}
              </dd>
            </div>
          ))}
        </dl>
      )}
      {test.phase === "done" && (
        <>
          {test.cautions && test.cautions.length > 0 && (
            <ul class="leak-cautions">
              {test.cautions.map((code) => (
                <li key={code} data-caution={code} class={decisive.has(code) ? "caution" : ""}>
                  {text.cautions[code]}
                </li>
              ))}
            </ul>
          )}
          <p>{verdict.bad ? text.next.found : text.next.none}</p>
          <p class="quiet">{text.reference}</p>
        </>
      )}
    </div>
  );
}
