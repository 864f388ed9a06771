import { render } from "preact";
import { Begin } from "./begin.tsx";
import { Correct } from "./correct.tsx";
import { Look } from "./look.tsx";
import { Order } from "./order.tsx";
import { Publish } from "./publish.tsx";
import { Tonight } from "./tonight.tsx";
import { Words } from "./words.tsx";

const [, view = "", id = ""] = /^\/(\w*)(?:\/([0-9a-z-]+))?$/.exec(location.pathname) ?? [];

function Desk() {
  if (view === "begin") return <Begin />;
  if (view === "words") return <Words id={id} />;
  if (view === "look") return <Look id={id} />;
  if (view === "order") return <Order id={id} />;
  if (view === "correct") return <Correct id={id} />;
  if (view === "publish") return <Publish id={id} />;
  return <Tonight />;
}

render(<Desk />, document.body);
