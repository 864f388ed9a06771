import { isoDuration } from "../../src/model/clock.ts";
import type { RunningOrder as Order, OrderItem } from "../../src/pages/types.ts";
import { Proposed } from "./draft.tsx";
import { Flag } from "./flag.tsx";
import { Fold } from "./fold.tsx";
import { Cell, isHeld } from "./strips.tsx";
import { names } from "./text.ts";

interface OrderProps {
  readonly order: Order;
  readonly lamp: boolean;
  /** On a narrow page it is one line that opens: the words come first. */
  readonly folded?: boolean;
}

/** The log of the programme: a row a segment, as high as it is long. Heights come from the page's order sheet. */
export function RunningOrder({ order, lamp, folded = false }: OrderProps) {
  const [id, title] = ["page.order", "Running order"];
  const rows = (
    <ol>
      {order.items.map((item, index) => (
        <Row key={item.slug} item={item} lamp={lamp && index === 0} />
      ))}
      <li class="order-end">
        <span class="in">
          <span class="vh">Ends at </span>
          {order.endClock}
        </span>
      </li>
    </ol>
  );
  return (
    <nav class="running-order" aria-labelledby={id}>
      {folded ? (
        <Fold id={id} title={title}>
          {rows}
        </Fold>
      ) : (
        <>
          <h2 id={id}>{title}</h2>
          {rows}
        </>
      )}
    </nav>
  );
}

function Row({ item, lamp }: { readonly item: OrderItem; readonly lamp: boolean }) {
  const { inRecording, current } = item;
  return (
    <li
      class={names("order-item", isHeld(item) && "is-withheld", !inRecording && "is-cut", current && "is-current")}
      data-in={item.in}
      data-seconds={item.seconds}
    >
      <a href={item.href} aria-current={current ? "true" : undefined}>
        <time class="in" datetime={isoDuration(item.in * 1000)}>
          {item.inClock}
        </time>{" "}
        <Cell item={item} />{" "}
        <span class="what">
          <span class="title">{item.title}</span> <About item={item} />
        </span>
      </a>
      {lamp && (
        <span class="now" hidden aria-hidden="true">
          <b />
        </span>
      )}
    </li>
  );
}

/** `Package, 6:15`, what is the matter with it, and its corrections. */
function About({ item }: { readonly item: OrderItem }) {
  const { kindName, length, withheld, withdrawn, inRecording, correctionCount, proposed } = item;
  return (
    <span class={names("kind", kindName === null && "alone")}>
      {kindName !== null && `${kindName}, `}
      <span class="len">{length}</span>
      {withheld ? ", withheld" : withdrawn ? ", withdrawn" : !inRecording && ", not in the recording"}
      {proposed && <Proposed what="in point " />}
      {correctionCount > 0 && (
        <>
          {" "}
          <Flag count={correctionCount} short />
        </>
      )}
    </span>
  );
}
