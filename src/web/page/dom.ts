// Elements made from values, never from markup: no text of a tune can become any.

type Child = Node | string;
type Attributes = Record<string, string | boolean | ((event: Event) => void)>;

/** An element with attributes (`true` sets an empty one), listeners (functions) and children. */
export function element<K extends keyof HTMLElementTagNameMap>(
  name: K,
  attributes: Attributes = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (typeof value === "function") made.addEventListener(key, value);
    else if (value === true) made.setAttribute(key, "");
    else if (value !== false) made.setAttribute(key, value);
  }
  made.append(...children);
  return made;
}

const kDrawing = "http://www.w3.org/2000/svg";

/** The same for the pieces of a drawing. */
export function shape(
  name: string,
  attributes: Record<string, string | number> = {},
  ...children: Child[]
): SVGElement {
  const made = document.createElementNS(kDrawing, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.append(...children);
  return made;
}

/** The element with this id, which the document has. */
export function part<T extends HTMLElement = HTMLElement>(id: string): T {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no #${id}`);
  return found as T;
}

const kDrawn = new Set([
  "svg", "g", "path", "use", "text", "tspan", "rect", "circle", "ellipse", "line", "polyline",
  "polygon", "defs", "symbol", "title", "desc", "style",
]);

/**
 * A drawing that the core or the staff engraver made. Everything that is no shape or text goes out,
 * as does every handler and every address outside the drawing. It is read as HTML reads drawings,
 * in less than half the time that browsers take for XML; nothing in a template loads or runs.
 */
export function drawing(text: string): SVGSVGElement {
  const template = document.createElement("template");
  template.innerHTML = text;
  const root = template.content.querySelector("svg");
  if (!root) throw new Error("this is no drawing");
  for (const one of [root, ...root.querySelectorAll("*")]) {
    if (one.namespaceURI !== kDrawing || !kDrawn.has(one.localName)) {
      one.remove();
      continue;
    }
    for (const name of one.getAttributeNames()) {
      // The parser has made all of them small letters but those that drawings write otherwise.
      const outside = name.endsWith("href") && !one.getAttribute(name)?.startsWith("#");
      if (outside || name.startsWith("on")) one.removeAttribute(name);
    }
  }
  return root;
}

/** Hands a file to the person: the browser asks where, or puts it among the downloads. */
export function hand_over(name: string, bytes: Uint8Array | string, kind: string): void {
  const address = URL.createObjectURL(new Blob([bytes as BlobPart], { type: kind }));
  const link = element("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  // The download has begun long before; its bytes need not stay in memory.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
