type Attributes = Readonly<Record<string, string | number>>;

/** An HTML element with its attributes and what is in it; text stays text. */
export function element<K extends keyof HTMLElementTagNameMap>(
  name: K,
  attributes: Attributes,
  ...children: readonly (Node | string)[]
): HTMLElementTagNameMap[K] {
  return filled(document.createElement(name), attributes, children);
}

/** The same in SVG. */
export function drawing<K extends keyof SVGElementTagNameMap>(
  name: K,
  attributes: Attributes,
  ...children: readonly Node[]
): SVGElementTagNameMap[K] {
  return filled(document.createElementNS("http://www.w3.org/2000/svg", name), attributes, children);
}

function filled<E extends Element>(made: E, attributes: Attributes, children: readonly (Node | string)[]): E {
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.append(...children);
  return made;
}
