import { jsxTemplate } from "preact/jsx-runtime";
import { renderToString } from "preact-render-to-string";
import { isoDuration } from "../../src/model/clock.ts";
import { does } from "../../src/model/correctionKinds.ts";
import type { Block, Link, SegmentView } from "../../src/pages/types.ts";
import { Proposed } from "./draft.tsx";
import { HeadNotes } from "./note.tsx";
import { Paragraph } from "./paragraph.tsx";
import { Withheld } from "./withheld.tsx";

interface SegmentProps {
  readonly segment: SegmentView;
  /** The link at the slate's end: from the episode to the segment's page, and back. */
  readonly way: Link;
  /** On its own page the title is the page's, and the credits stand in the boxes under it. */
  readonly alone?: boolean;
}

/** A segment with its words. */
export function Segment({ segment, way, alone = false }: SegmentProps) {
  const { slug, title, withheld, blocks, headNotes } = segment;
  const heading = `${slug}.title`;
  return (
    <section class="segment" id={slug} aria-labelledby={heading}>
      <header class="segment-head">
        <Slate segment={segment} way={way} alone={alone} />
        <h2 class={alone ? "vh" : undefined} id={heading}>
          {alone ? "Transcript" : title}
        </h2>
        {!alone && <Byline segment={segment} />}
        <Cautions segment={segment} />
        {!alone && blocks.length === 0 && segment.summary !== null && <p class="outline">{segment.summary}</p>}
        {withheld !== null && <Withheld rights={withheld} at={segment.inClock} />}
        {headNotes.some((note) => does(note, "takes-away")) && (
          <p class="entry-gone">This segment is withdrawn. Its words are gone; the note on it stays.</p>
        )}
        {segment.silent !== null && (
          <p class="outline">
            The recording is silent here, from {segment.silent.from} to {segment.silent.to}.
          </p>
        )}
      </header>
      <HeadNotes notes={headNotes} />
      <Words blocks={blocks} />
    </section>
  );
}

const alreadySet = new WeakMap<readonly Block[], string>();

/** The words of a segment, set once for the pages that show the same: most of a page is words. */
function Words({ blocks }: { readonly blocks: readonly Block[] }) {
  const html = alreadySet.get(blocks) ?? renderToString(<Blocks blocks={blocks} />);
  alreadySet.set(blocks, html);
  return jsxTemplate([html]);
}

const Blocks = ({ blocks }: { readonly blocks: readonly Block[] }) => (
  <>
    {blocks.map((block) => (
      <SpokenOrHeard key={keyOf(block)} block={block} />
    ))}
  </>
);

function Slate({ segment, way, alone }: Required<SegmentProps>) {
  const { kindName, length, inClock, title } = segment;
  return (
    <p class="slate">
      <time class="in" datetime={isoDuration(segment.in * 1000)}>
        {inClock}
      </time>{" "}
      <span class="slate-kind">
        {kindName !== null && `${kindName}, `}
        <span class="len">{length}</span>
        {!segment.inRecording && segment.withheld === null && ", not in the recording"}
        {segment.proposed && <Proposed what="in point " />}
      </span>{" "}
      <a class="seg-link" href={way.href}>
        {way.title}
        {!alone && <span class="vh">: {title}</span>}
      </a>
    </p>
  );
}

/** Who made it, where it is from, what it is about. */
function Byline({ segment: { by, places, topics } }: { readonly segment: SegmentView }) {
  const groups = [by, places, topics].filter((links) => links.length > 0);
  if (groups.length === 0) return null;
  return (
    <p class="byline">
      {groups.map((links, index) => (
        <>
          {index > 0 && " "}
          <span>
            <Links links={links} />
          </span>
        </>
      ))}
    </p>
  );
}

/** Links with commas between them. */
const Links = ({ links }: { readonly links: readonly Link[] }) => (
  <>
    {links.map(({ title, href }, index) => (
      <>
        {index > 0 && ", "}
        <a href={href}>{title}</a>
      </>
    ))}
  </>
);

const Cautions = ({ segment: { slug, cautions } }: { readonly segment: SegmentView }) => (
  <>
    {cautions.map(({ caution, label, says }) => (
      <div class="caution" role="note" aria-labelledby={`${slug}.${caution}`} key={caution}>
        <p id={`${slug}.${caution}`}>
          <b>{label}</b>
        </p>
        <p>{says}</p>
      </div>
    ))}
  </>
);

const keyOf = (block: Block): string | undefined => (block.is === "sound" ? block.id : block.paragraphs[0]?.id);

/** One voice's unbroken speech, or what is heard but not said. */
function SpokenOrHeard({ block }: { readonly block: Block }) {
  if (block.is === "sound") {
    return (
      <p class="sound" id={block.id}>
        <span class="vh">Sound: </span>
        {block.text}
      </p>
    );
  }
  const { speaker, paragraphs } = block;
  return (
    <div class="turn">
      <p class="speaker">
        {speaker === null ? <span class="unnamed">Speaker not named</span> : <b dir="auto">{speaker.name}</b>}
        {speaker !== null && speaker.role !== null && <span class="role"> {speaker.role}</span>}
        {speaker?.proposed === true && <Proposed />}
      </p>
      {paragraphs.map((paragraph) => (
        <Paragraph key={paragraph.id} paragraph={paragraph} />
      ))}
    </div>
  );
}
