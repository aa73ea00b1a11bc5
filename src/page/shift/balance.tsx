/** The balance of the shift in a few figures: intake, output, net, urine per weight, and what nobody measured. */

import type { Certainty, ShiftFigures } from "../api/shapes.js";
import { useSpeech } from "../words/language.js";
import { duration } from "../words/numbers.js";
import type { Ask, Asked } from "./asked.js";
import { besides } from "./besides.js";
import { rowsOfBalance } from "./table-rows.js";

const HOUR = 3_600_000;

interface BalanceProps {
  readonly shift: ShiftFigures;
  readonly ask: Ask;
}

export function BalanceSection({ shift, ask }: BalanceProps) {
  const speech = useSpeech();
  const { words, figure } = speech;
  const rows = rowsOfBalance(shift, speech);
  const cell = (key: string) => rows.find((row) => row.key === key);
  const cumulative = cell("cumulative")?.cells.findLast((one) => one !== null);
  return (
    <section aria-labelledby="balance">
      <h2 id="balance">{words.balance.heading}</h2>
      <dl className="balance">
        {(["intake", "output", "net"] as const).map((key) => {
          const total = cell(key)?.total;
          return (
            total && (
              <Amount
                key={key}
                name={words.balance[key]}
                certainty={total.certainty}
                asked={total.asked}
                ask={ask}
              >
                {figure(total.value)}
              </Amount>
            )
          );
        })}
        {cumulative && (
          <Amount
            name={words.balance.sinceAdmission}
            certainty={cumulative.certainty}
            asked={cumulative.asked}
            ask={ask}
          >
            {figure(cumulative.value)}
          </Amount>
        )}
      </dl>
      <Urine shift={shift} />
      <ul className="sentences soft">
        {besides(shift, speech).map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </section>
  );
}

interface AmountProps {
  readonly name: string;
  readonly certainty: Certainty;
  readonly asked: Asked;
  readonly ask: Ask;
  readonly children: string;
}

function Amount({ name, certainty, asked, ask, children }: AmountProps) {
  const { words } = useSpeech();
  const sure = words.certainty[certainty];
  const spoken = `${sure} ${children}\u00a0mL`.trim();
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <button
          type="button"
          className="figure large"
          aria-label={words.table.why(name, words.table.wholeShift, spoken)}
          onClick={() => ask(asked)}
        >
          {sure !== "" && <small>{sure} </small>}
          <strong>{children}</strong> mL
        </button>
      </dd>
    </div>
  );
}

/** Urine per weight over the windows the service judges, each with its volume or why it cannot be judged. */
function Urine({ shift }: { readonly shift: ShiftFigures }) {
  const { words, figure, inTenths, language } = useSpeech();
  const { urine } = shift.balance;
  if (urine.length === 0) return null;
  return (
    <>
      <h3>{words.balance.urine}</h3>
      <dl className="urine">
        {urine.map(({ hours, volume, mLPerKgPerHour, why }) => (
          <div key={hours}>
            <dt>{words.balance.lastHours(duration(hours * HOUR))}</dt>
            <dd>
              {mLPerKgPerHour === null ? (
                <span lang={language === "en" ? undefined : "en"} className="soft">
                  {why}
                </span>
              ) : (
                <>
                  <strong>{figure(mLPerKgPerHour)}</strong> {words.balance.perWeight},{" "}
                  <span className="soft">{inTenths(volume)}</span>
                </>
              )}
            </dd>
          </div>
        ))}
      </dl>
    </>
  );
}
