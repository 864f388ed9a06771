import type { Deck } from "./deck.ts";
import { element } from "./elements.ts";
import { forgetPlaces, keepChoices, recallChoices } from "./kept.ts";
import { commandOf, KEYS } from "./keys.ts";

/** Where letters are written or chosen by. */
const FIELDS = "input:not([type=range], [type=checkbox], [type=radio]), textarea, select, [contenteditable], dialog";

/** Letters work anywhere on the page, but where they are written; `keys`: unless the reader turned them off. */
export function listenToKeys({ commands }: Deck, help: Help): void {
  document.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || (event.target instanceof Element && event.target.closest(FIELDS) !== null)) return;
    const command = commandOf(event);
    if (command === null || (command !== "help" && !help.keys())) return;
    event.preventDefault();
    commands[command]();
  });
}

export interface Help {
  show(): void;
  /** Whether letters work. */
  keys(): boolean;
}

/** The list of keys, and what is kept on this device. It is made when it is asked for. @param forgot called after forgetting. */
export function helpPanel(forgot: () => void, hasPicture: boolean): Help {
  let keys = recallChoices().keys;
  let panel: HTMLDialogElement | null = null;
  return {
    keys: () => keys,
    show() {
      panel ??= make(keys, hasPicture, forgot, (on) => {
        keys = on;
        keepChoices({ keys });
      });
      panel.showModal();
    },
  };
}

function make(on: boolean, hasPicture: boolean, forgot: () => void, turn: (on: boolean) => void): HTMLDialogElement {
  const keys = KEYS.filter(([, command]) => hasPicture || command !== "full").map(([key, , does]) =>
    element("div", {}, element("dt", {}, element("kbd", {}, key.toUpperCase())), element("dd", {}, does)),
  );
  const letters = element("input", { type: "checkbox" });
  letters.checked = on;
  letters.addEventListener("change", () => turn(letters.checked));
  const forget = element("button", { type: "button" }, "Forget where I stopped");
  const close = element("button", { type: "button" }, "Close");
  const panel = element(
    "dialog",
    { class: "deck-help", "aria-labelledby": "page.keys" },
    element("h2", { id: "page.keys" }, "Keys"),
    element("dl", {}, ...keys),
    element("label", {}, letters, "These keys work anywhere on the page"),
    element("p", {}, "On the strip: arrows go 5 seconds, Page Up and Page Down a segment."),
    element("p", { role: "status" }, "Where you stopped, your speed and your sound are kept on this device alone."),
    forget,
    close,
  );
  forget.addEventListener("click", () => {
    forgetPlaces();
    forgot();
    panel.querySelector("[role=status]")?.replaceChildren("Forgotten: no place is kept on this device now.");
  });
  close.addEventListener("click", () => panel.close());
  panel.addEventListener("keydown", ({ key }) => void (key === "?" && panel.close()));
  document.body.append(panel);
  return panel;
}
