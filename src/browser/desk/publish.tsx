import { useEffect, useState } from "preact/hooks";
import { formatClock } from "../../model/clock.ts";
import type { DeskPublish } from "../../model/desk.ts";
import { read, saysOf, write } from "./api.ts";
import { afterEntry, Done } from "./entering.tsx";
import { Fault, Frame } from "./frame.tsx";

/** What blocks, what warns, what will be entered; one button. */
export function Publish({ id }: { readonly id: string }) {
  const [plan, setPlan] = useState<DeskPublish | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [doing, setDoing] = useState<string | null>(null);
  const [areRight, setAreRight] = useState(false);
  const [done, setDone] = useState<readonly string[]>([]);
  const look = () => read<DeskPublish>(`/api/publish/${id}`).then(setPlan, (error: unknown) => setFault(saysOf(error)));
  useEffect(() => void look(), [id]);

  const publish = async () => {
    setFault(null);
    try {
      setDoing("Entering it in the record");
      const entered = await write<DeskPublish>(`/api/publish/${id}`, {
        digest: areRight ? (plan?.digest ?? null) : null,
      });
      if (entered.state !== "entered") {
        setPlan(entered);
        setFault(entered.refused ?? "Nothing was entered: see what stands in the way.");
        return setDoing(null);
      }
      const followed = await afterEntry(setDoing);
      setDone([...entered.entries, ...followed.lines]);
      if (!followed.isWell) setFault("It is entered; but look at the lines below.");
      await look();
    } catch (error) {
      setFault(saysOf(error));
    }
    setDoing(null);
  };

  const blocking =
    plan?.findings.filter(({ level, rule }) => level === "blocks" && rule !== "proposals-unconfirmed") ?? [];
  const warnings = plan?.findings.filter(({ level }) => level === "warns") ?? [];
  return (
    <Frame title="Publish" id={id} here="publish">
      <p class="desk-lead">{id}</p>
      <Fault says={fault} />
      {plan !== null && (
        <>
          {blocking.length > 0 && <Findings title="These stand in the way" id={id} findings={blocking} />}
          {plan.state === "nothing" && <p>All of it is published: there is nothing to enter.</p>}
          {plan.proposals.length > 0 && (
            <section>
              <h2>Still proposed: {plan.proposals.length}</h2>
              <ul class="desk-findings">
                {plan.proposals.map(({ what, name, at }) => (
                  <li key={`${what} ${name} ${at}`}>
                    <a href={`/words/${id}#t=${at / 1000}`}>{formatClock(at)}</a> {what}: {name}
                  </li>
                ))}
              </ul>
              <label class="desk-check">
                <input
                  type="checkbox"
                  checked={areRight}
                  onChange={(event) => setAreRight(event.currentTarget.checked)}
                />
                <span>I have checked them, and they are all right</span>
              </label>
            </section>
          )}
          {plan.state === "trial" && (
            <section>
              <h2>This will be entered in the record</h2>
              <ul class="desk-findings">
                {plan.entries.map((entry) => (
                  <li key={entry}>{entry}</li>
                ))}
              </ul>
              <p>From then on nothing of it is changed in silence: what is wrong is corrected, with a date.</p>
              <button
                type="button"
                disabled={doing !== null || (plan.proposals.length > 0 && !areRight)}
                onClick={() => void publish()}
              >
                Publish
              </button>
            </section>
          )}
          {warnings.length > 0 && <Findings title={`Worth a look: ${warnings.length}`} id={id} findings={warnings} />}
        </>
      )}
      <Done doing={doing} done={done} />
    </Frame>
  );
}

interface FindingsProps {
  readonly title: string;
  readonly id: string;
  readonly findings: DeskPublish["findings"];
}

const Findings = ({ title, id, findings }: FindingsProps) => (
  <section>
    <h2>{title}</h2>
    <ul class="desk-findings">
      {findings.map(({ rule, at, says, mend }, n) => (
        <li key={`${n} ${rule}`}>
          {at !== null && <a href={`/words/${id}#t=${at / 1000}`}>{formatClock(at)}</a>} {says} <span>{mend}</span>
        </li>
      ))}
    </ul>
  </section>
);
