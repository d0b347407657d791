/**
 * Where a calculator shows what came out: its results and its drawings.
 */

export class Places {
  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    /** What the build has put there, where something else has been since. @type {Map<string, Node[]>} */
    this.own = new Map();
  }

  /**
   * Put new parts in, unless the same stand there; what the reader has opened stays open.
   * @param {string} name
   * @param {Node[]} parts
   */
  put(name, parts) {
    const place = this.root.querySelector(name);
    const before = [...(place?.childNodes ?? [])];
    if (!this.own.has(name)) {
      this.own.set(name, before);
    }
    parts.forEach((part) => part.normalize()); // a parser makes one text of neighbours
    const same = (/** @type {Node} */ node, /** @type {number} */ at) =>
      node.isEqualNode(parts[at] ?? null);
    if (before.length === parts.length && before.every(same)) {
      return;
    }
    const opened = [...this.root.querySelectorAll(`${name} details[open]`)];
    place?.replaceChildren(...parts);
    for (const { className } of opened) {
      this.root.querySelector(`${name} details.${className}`)?.setAttribute("open", "");
    }
  }

  /** Put back what the page has. */
  putBack() {
    this.own.forEach((nodes, place) =>
      this.put(place, nodes.map((node) => node.cloneNode(true))),
    );
  }
}
