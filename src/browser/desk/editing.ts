import { useEffect, useRef, useState } from "preact/hooks";
import { afterChange, type DeskEdit, type DeskEdited, type DeskFinding, type DeskWords } from "../../model/desk.ts";
import { read, saysOf, Unreachable, write } from "./api.ts";
import { forget, isOwn, isThere, keep, keptIn, noteSent, putOver, type Typed, withKept } from "./kept.ts";
import { numberAt, renumbered } from "./renumber.ts";

/** Typing is sent after so long a pause, and at the latest so long after its first letter: milliseconds. */
const [PAUSE, LATEST] = [600, 1500] as const;
/** A server that is away is asked again. */
const AGAIN = 2000;
const FINDINGS_AFTER = 1200;
const ELSEWHERE =
  "The transcript was changed elsewhere meanwhile: this is how it is now. Your last change was not made.";

export interface Editing {
  readonly words: DeskWords | null;
  readonly findings: readonly DeskFinding[];
  readonly fault: string | null;
  /** What was said of the last change, such as how many places it changed. */
  readonly says: string | null;
  /** What was typed over words that are others by now: somebody must say what becomes of it. */
  readonly lost: readonly Typed[];
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
  /** Puts in what was typed. */
  putLost(own: Typed): void;
  /** Leaves the words as they are. */
  dropLost(own: Typed): void;
}

/** The words of an episode and the changes to them, one after the other. */
export function useEditing(id: string): Editing {
  const [words, setWords] = useState<DeskWords | null>(null);
  const [findings, setFindings] = useState<readonly DeskFinding[]>([]);
  const [fault, setFault] = useState<string | null>(null);
  const [says, setSays] = useState<string | null>(null);
  const [lost, setLost] = useState<readonly Typed[]>([]);
  const [isSaved, setIsSaved] = useState(true);
  const latest = useRef<DeskWords | null>(null);
  const typed = useRef<(Typed & { since: number; timer: number }) | null>(null);
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  const look = useRef(0);

  /** Shows the words as they are by now, with what waits to be sent; and what can't be sent, until somebody says what becomes of it. */
  const show = (): void => {
    const now = latest.current;
    if (now === null) return;
    const kept = keptIn(id);
    const isLost = (own: Typed) => !isOwn(now.captions, own) && !isThere(now.captions, own);
    setWords(withKept(now, kept));
    setLost(kept.filter((own) => own.start !== typed.current?.start && isLost(own)));
    setIsSaved(kept.length === 0);
  };

  const take = (now: DeskWords) => {
    latest.current = now;
    show();
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
      show();
      setFault(says);
      return false;
    };
    for (;;) {
      const here = latest.current;
      const captions = here?.captions ?? [];
      const edit = renumbered(asked, seen, captions);
      if (edit === null) return give("This caption is no more: your last change was not made.");
      // A server that was killed may have made this very change. Where only other captions are others now, nothing is overwritten.
      if (own !== null && isThere(captions, own)) return true;
      const kept = keptIn(id).find(({ start }) => start === own?.start) ?? own;
      if (kept !== null && !isOwn(captions, kept)) return give(ELSEWHERE);
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
        if (own === null) return give(ELSEWHERE);
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
    const now = latest.current?.captions ?? [];
    if (isTaken) forget(id, own, (isWhole ? null : now[numberAt(now, own.start)]?.text) ?? own.text);
    show();
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
        // What the browser still has of a session that ended before it was sent.
        for (const own of keptIn(id)) if (isThere(now.captions, own)) forget(id, own, own.text);
        take(now);
        for (const own of keptIn(id)) if (isOwn(now.captions, own)) void sendWords(own, true);
      },
      (error: unknown) => setFault(saysOf(error)),
    );
  }, [id]);

  return {
    words,
    findings,
    fault,
    says,
    lost,
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
    putLost(own) {
      const captions = latest.current?.captions ?? [];
      putOver(id, own, captions[numberAt(captions, own.start)]?.text ?? "");
      void sendWords(own, true);
      show();
    },
    dropLost(own) {
      forget(id, own, own.text);
      show();
    },
  };
}
