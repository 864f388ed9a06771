import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { likeness, type Sounded, soundedOf } from "./likeness.ts";

/** How near an address must be to one of the programme's own to be a mishearing of it. No source. */
const LEAST = 0.55;
/** Of an address so many characters are compared: a host has no more (RFC 1035). */
const LONGEST = 255;
/** How many words before a spoken dot can belong to an address. */
const BEFORE = 4;
/** And after it: what goes on is no address, and would be gone through again from every dot. */
const AFTER = 40;

export const addressMisheard: Check = {
  name: "address-misheard",
  level: "warns",
  group: "names",
  reason: "An address that is one letter wrong leads listeners to nothing, or to a stranger.",
  looks:
    "Web addresses, written or spelled out with “dot” and “slash”, that are near one of the programme's own (its site, its mail " +
    "address and the list `addresses` of programme.md) without being it; and any address left in spoken words.",
  example: "“fair islands dot sample slash tied” for verrinislands.example/tide.",
  accept: "It is another address, and it was looked at.",
  judge: (subject) => {
    const own = ownAddresses(subject).map((address) => ({ address, sounded: soundedOf(address) }));
    return addressesIn(subject.spoken.words).flatMap(({ words, address, spoken }) =>
      judge(words, address, spoken, own, subject),
    );
  },
};

function judge(
  words: readonly Word[],
  address: string,
  spoken: boolean,
  own: readonly OwnAddress[],
  subject: Subject,
): readonly Doubt[] {
  if (!spoken && own.some((known) => known.address === bare(address))) return [];
  const sounded = soundedOf(bare(address).slice(0, LONGEST));
  const ranked = own
    .map((known) => ({ known: known.address, score: likeness(sounded, known.sounded) }))
    .sort((a, b) => b.score - a.score);
  const [best] = ranked;
  if (best !== undefined && best.score >= LEAST) {
    return doubtOf(words, subject, `“${quoted(words)}” is probably the address ${best.known}.`, `Write ${best.known}.`);
  }
  if (!spoken) return [];
  const says = `“${quoted(words)}” is an address in spoken words.`;
  return doubtOf(words, subject, says, "Write it as people would type it, after trying it.");
}

interface OwnAddress {
  readonly address: string;
  readonly sounded: Sounded;
}

/** What the programme calls its own: the site, the mail address's host, and `addresses`. */
function ownAddresses({ programme }: Subject): readonly string[] {
  const mail = /^mailto:[^@]+@(.+)$/.exec(programme.reports ?? "")?.[1];
  return [...(programme.addresses ?? []), programme.url, ...(mail === undefined ? [] : [mail])].map(bare);
}

/** Without scheme, `www.` and a slash at the end; small letters. */
const bare = (address: string): string =>
  address
    .toLowerCase()
    .replace(/^https?:\/\//, "")
    .replace(/^www\./, "")
    .replace(/\/$/, "");

interface Address {
  readonly words: readonly Word[];
  readonly address: string;
  readonly spoken: boolean;
}

const WRITTEN = /^(?:https?:\/\/)?[\p{L}\d-]+(?:\.[\p{L}\d-]+)*\.\p{L}{2,}(?:\/\S*)?$/u;
const DOMAIN = /^(?:com|org|net|uk|co|gov|edu|info|tv|fm|radio|news|eu|io|example|sample)$/;

function addressesIn(words: readonly Word[]): readonly Address[] {
  const found: Address[] = [];
  for (let at = 0; at < words.length; at++) {
    const word = words[at];
    if (word === undefined) continue;
    if (WRITTEN.test(word.text) && !/^(?:\p{L}\.)+\p{L}?$/u.test(word.text) && !/^\d/.test(word.text)) {
      found.push({ words: [word], address: word.text, spoken: false });
    } else if (word.fold === "dot" && word.after === "") {
      const spoken = spokenAddress(words, at);
      if (spoken === null) continue;
      found.push(spoken.address);
      at = spoken.to - 1;
    }
  }
  return found;
}

/** `verrin islands dot example slash tide`, around the word `dot`; null where nothing else says that it is an address. */
function spokenAddress(words: readonly Word[], dot: number): { readonly address: Address; readonly to: number } | null {
  let to = dot + 2;
  while (to - dot < AFTER && /^(?:dot|slash|forward)$/.test(words[to]?.fold ?? "") && words[to - 1]?.after === "") {
    to += words[to]?.fold === "forward" ? 3 : 2;
  }
  const tail = words.slice(dot, to);
  const isAddress = tail.some(({ fold }) => fold === "slash") || DOMAIN.test(tail[1]?.fold ?? "");
  if (!isAddress || tail.length < 2) return null;
  let from = dot;
  while (from > 0 && dot - from < BEFORE) {
    const before = words[from - 1];
    if (before === undefined || before.after !== "" || /^(?:is|at|to|on|visit|website|see|go)$/.test(before.fold))
      break;
    from -= 1;
  }
  const own = words.slice(from, to);
  const address = own
    .map(({ fold }) => (fold === "dot" ? "." : fold === "slash" ? "/" : fold === "forward" ? "" : fold))
    .join("");
  return { address: { words: own, address, spoken: true }, to };
}
