import { useEffect, useRef, useState } from "preact/hooks";
import { afterChange, type DeskEdit, type DeskEdited, type DeskFinding, type DeskWords } from "../../model/desk.ts";
import { read, saysOf, Unreachable, write } from "./api.ts";
import { forget, isOwn, keep, keptIn, noteSent, type Typed } from "./kept.ts";
import { numberAt, renumbered } from "./renumber.ts";

/** Typing is sent after so long a pause, and at the latest so long after its first letter: milliseconds. */
const [PAUSE, LATEST] = [600, 1500] as const;
/** A server that is away is asked again. */
const AGAIN = 2000;
const FINDINGS_AFTER = 1200;

export interface Editing {
  readonly words: DeskWords | null;
  readonly findings: readonly DeskFinding[];
  readonly fault: string | null;
  /** What was said of the last change, such as how many places it changed. */
  readonly says: string | null;
  /** What was typed into a file that is another by now. */
  readonly mine: Typed | null;
  readonly isSaved: boolean;
  /** @param start when the caption begins. */
  type(start: number, was: string, text: string): void;
  /** Whether something typed there waits to be sent. */
  isTyping(start: number): boolean;
  /** Sends what is typed, then makes a change. */
  change(edit: DeskEdit): Promise<boolean>;
  /** Somebody has left a caption: what is typed is whole. */
  leave(): void;
  /** Reads the words anew: something else has changed the episode. */
  load(): void;
  putMine(): void;
  dropMine(): void;
}

const plain = (text: string): string => text.replace(/\s+/g, " ").trim();

/** The words of the caption that begins there; null: there is none. */
const textAt = (words: DeskWords | null, start: number): string | null =>
  words?.captions[numberAt(words.captions, start)]?.text ?? null;

/** The words of an episode and the changes to them, one after the other. */
export function useEditing(id: string): Editing {
  const [words, setWords] = useState<DeskWords | null>(null);
  const [findings, setFindings] = useState<readonly DeskFinding[]>([]);
  const [fault, setFault] = useState<string | null>(null);
  const [says, setSays] = useState<string | null>(null);
  const [mine, setMine] = useState<Typed | null>(null);
  const [isSaved, setIsSaved] = useState(true);
  const latest = useRef<DeskWords | null>(null);
  const typed = useRef<(Typed & { since: number; timer: number }) | null>(null);
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  const look = useRef(0);

  const take = (now: DeskWords) => {
    latest.current = now;
    setWords(now);
    clearTimeout(look.current);
    look.current = window.setTimeout(() => {
      read<readonly DeskFinding[]>(`/api/findings/${id}`).then(setFindings, () => undefined);
    }, FINDINGS_AFTER);
  };

  /** One change, after all before it. @param own where it is words that somebody typed. @returns whether it was made. */
  const send = (asked: DeskEdit, own: Typed | null = null): Promise<boolean> => {
    const seen = latest.current?.captions ?? [];
    const made = queue.current.then(() => sent(asked, own, seen));
    queue.current = made;
    return made;
  };

  const sent = async (asked: DeskEdit, own: Typed | null, seen: DeskWords["captions"]): Promise<boolean> => {
    const give = (says: string): false => {
      if (own !== null) setMine(own);
      setFault(says);
      return false;
    };
    for (;;) {
      const here = latest.current;
      const edit = renumbered(asked, seen, here?.captions ?? []);
      if (edit === null) return give("This caption is no more: your last change was not made.");
      try {
        const edited = await write<DeskEdited>(`/api/words/${id}`, { version: here?.version, edit });
        setFault(null);
        if (edited.is === "refused") {
          setFault(edited.says);
          return false;
        }
        if (edited.is === "done" && here !== null) {
          take(afterChange(here, edited.words));
          setSays(edited.says);
          return true;
        }
        if (edited.is === "stale") take(edited.words);
        const there = own === null ? null : textAt(latest.current, own.start);
        // A server that was killed may have made this very change. Where only other captions are others now, nothing is overwritten.
        if (own !== null && there === plain(own.text)) return true;
        if (own === null || !isOwn(id, there, own))
          return give(
            "The transcript was changed elsewhere meanwhile: this is how it is now. Your last change was not made.",
          );
      } catch (error) {
        setFault(saysOf(error));
        if (!(error instanceof Unreachable)) return false;
        await new Promise((done) => setTimeout(done, AGAIN));
      }
    }
  };

  /** Words as somebody typed them, for the caption that begins there; once they are taken, this browser needs them no more. */
  const sendWords = async (own: Typed, isWhole: boolean): Promise<boolean> => {
    const caption = numberAt(latest.current?.captions ?? [], own.start);
    noteSent(id, own);
    const isTaken = await send({ op: "words", caption, text: own.text, isWhole }, own);
    if (isTaken) setIsSaved(forget(id, own));
    return isTaken;
  };

  const flush = async (isWhole: boolean): Promise<boolean> => {
    const own = typed.current;
    if (own === null) return true;
    if (!isWhole && own.text.trim() === "") return true;
    clearTimeout(own.timer);
    typed.current = null;
    return sendWords(own, isWhole);
  };

  useEffect(() => {
    read<DeskWords>(`/api/words/${id}`).then(
      (now) => {
        take(now);
        // What the browser still has of a session that ended before it was sent.
        for (const own of keptIn(id)) {
          const there = textAt(now, own.start);
          if (there === plain(own.text)) forget(id, own);
          else if (isOwn(id, there, own)) void sendWords({ ...own, was: there ?? "" }, true);
          else setMine(own);
        }
        setIsSaved(keptIn(id).length === 0);
      },
      (error: unknown) => setFault(saysOf(error)),
    );
  }, [id]);

  return {
    words,
    findings,
    fault,
    says,
    mine,
    isSaved,
    type(start, was, text) {
      const before = typed.current;
      if (before !== null && before.start !== start) void flush(true);
      const since = before?.start === start ? before.since : Date.now();
      if (before !== null) clearTimeout(before.timer);
      const wait = Math.max(0, Math.min(PAUSE, since + LATEST - Date.now()));
      typed.current = { start, was, text, since, timer: window.setTimeout(() => void flush(false), wait) };
      setIsSaved(false);
      keep(id, { start, was, text });
    },
    isTyping: (start) => typed.current?.start === start,
    async change(edit) {
      await flush(true);
      return send(edit);
    },
    leave: () => void flush(true),
    load: () => void read<DeskWords>(`/api/words/${id}`).then(take, (error: unknown) => setFault(saysOf(error))),
    putMine() {
      if (mine !== null) void sendWords({ ...mine, was: textAt(latest.current, mine.start) ?? "" }, true);
      setMine(null);
    },
    dropMine() {
      if (mine !== null) setIsSaved(forget(id, mine));
      setMine(null);
    },
  };
}
