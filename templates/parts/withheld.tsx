import type { Withheld as Rights } from "../../src/pages/types.ts";

interface WithheldProps {
  readonly rights: Rights;
  /** The moment of the recording where the stretch is, or would be. */
  readonly at: string;
}

/** Says what is withheld, until when and why, what is shown all the same, and what the player does about it. */
export function Withheld({ rights, at }: WithheldProps) {
  const { until, airedFrom, airedTo } = rights;
  return (
    <div class="withheld">
      <p>
        {until === null ? (
          <b>Withheld. No date is foreseen.</b>
        ) : (
          <b>
            Withheld until <time datetime={until.iso}>{until.long}</time>.
          </b>
        )}{" "}
        This segment ran from {airedFrom} to {airedTo} of the programme as aired. {reason(rights)}
      </p>
      {rights.sound !== "away" && <p>{inTheRecording(rights, at)}</p>}
    </div>
  );
}

function reason({ until, holder, show }: Rights): string {
  const what = show === "transcript" ? "Its sound and pictures" : "Its sound, pictures and words";
  const when = until === null ? "we may not publish them" : "we may not publish them before that date";
  const whose =
    holder === null ? `${what} are not ours to give, and ${when}.` : `${what} belong to ${holder}, and ${when}.`;
  return show === "transcript" ? `${whose} Its words are shown here.` : whose;
}

function inTheRecording({ from, to, sound }: Rights, at: string): string {
  if (from === null || to === null)
    return `The recording does not have it: at ${at} it goes straight on to what came after.`;
  return sound === "silent"
    ? `The recording is silent there, from ${from} to ${to}.`
    : `The player steps over it, from ${from} to ${to} of the recording.`;
}
