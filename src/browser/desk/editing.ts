import { useEffect, useRef, useState } from "preact/hooks";
import { afterChange, type DeskEdit, type DeskEdited, type DeskFinding, type DeskWords } from "../../model/desk.ts";
import { read, saysOf, Unreachable, write } from "./api.ts";

/** What somebody has typed and the server has not. */
interface Typed {
  readonly caption: number;
  /** The words that stood there. */
  readonly was: string;
  readonly text: string;
}

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
  type(caption: number, was: string, text: string): void;
  /** Whether something typed there waits to be sent. */
  isTyping(caption: number): boolean;
  /** Sends what is typed, then makes a change. */
  change(edit: DeskEdit): Promise<boolean>;
  /** Somebody has left a caption: what is typed is whole. */
  leave(): void;
  /** Reads the words anew: something else has changed the episode. */
  load(): void;
  putMine(): void;
  dropMine(): void;
}

const keptIn = (id: string): string => `afterair desk ${id}`;

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

  /** One change, after all before it. @returns whether it was made. */
  const send = (edit: DeskEdit): Promise<boolean> => {
    const made = queue.current.then(async (): Promise<boolean> => {
      const version = latest.current?.version;
      for (;;) {
        try {
          const edited = await write<DeskEdited>(`/api/words/${id}`, { version, edit });
          setFault(null);
          if (edited.is === "refused") {
            setFault(edited.says);
            return false;
          }
          if (edited.is === "done" && latest.current !== null) take(afterChange(latest.current, edited.words));
          if (edited.is === "stale") {
            take(edited.words);
            if (edit.op === "words") setMine({ caption: edit.caption, was: "", text: edit.text });
            setFault(
              "The transcript was changed elsewhere meanwhile: this is how it is now. Your last change was not made.",
            );
            return false;
          }
          setSays(edited.says);
          return true;
        } catch (error) {
          setFault(saysOf(error));
          if (!(error instanceof Unreachable)) return false;
          await new Promise((done) => setTimeout(done, AGAIN));
        }
      }
    });
    queue.current = made;
    return made;
  };

  const flush = async (isWhole: boolean): Promise<boolean> => {
    const own = typed.current;
    if (own === null) return true;
    if (!isWhole && own.text.trim() === "") return true;
    clearTimeout(own.timer);
    typed.current = null;
    const sent = await send({ op: "words", caption: own.caption, text: own.text, isWhole });
    if (typed.current === null) {
      setIsSaved(true);
      localStorage.removeItem(keptIn(id));
    }
    return sent;
  };

  useEffect(() => {
    read<DeskWords>(`/api/words/${id}`).then(
      (now) => {
        take(now);
        // What the browser still has of a session that ended before it was sent.
        const kept = localStorage.getItem(keptIn(id));
        if (kept === null) return;
        localStorage.removeItem(keptIn(id));
        const { caption, was, text } = JSON.parse(kept) as Typed;
        if (now.captions[caption]?.text === was) void send({ op: "words", caption, text, isWhole: true });
        else if (now.captions[caption]?.text !== text) setMine({ caption, was, text });
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
    type(caption, was, text) {
      const before = typed.current;
      if (before !== null && before.caption !== caption) void flush(true);
      const since = before?.caption === caption ? before.since : Date.now();
      if (before !== null) clearTimeout(before.timer);
      const wait = Math.max(0, Math.min(PAUSE, since + LATEST - Date.now()));
      typed.current = { caption, was, text, since, timer: window.setTimeout(() => void flush(false), wait) };
      setIsSaved(false);
      localStorage.setItem(keptIn(id), JSON.stringify({ caption, was, text } satisfies Typed));
    },
    isTyping: (caption) => typed.current?.caption === caption,
    async change(edit) {
      await flush(true);
      return send(edit);
    },
    leave: () => void flush(true),
    load: () => void read<DeskWords>(`/api/words/${id}`).then(take, (error: unknown) => setFault(saysOf(error))),
    putMine() {
      if (mine !== null) void send({ op: "words", caption: mine.caption, text: mine.text, isWhole: true });
      setMine(null);
    },
    dropMine: () => setMine(null),
  };
}
