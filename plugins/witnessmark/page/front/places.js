/**
 * Where a calculator shows what came out: its results and its drawings.
 */

const PLACES = [".wm-outcome", ".wm-drawings"];

export class Places {
  /** @param {HTMLElement} root */
  constructor(root) {
    this.root = root;
    /** What the build has put there. @type {Map<string, Node[]>} */
    this.own = new Map();
  }

  /** Remember what the page has, the first time it is seen. */
  remember() {
    if (this.own.size === 0) {
      for (const place of PLACES) {
        const nodes = this.root.querySelector(place)?.childNodes ?? [];
        this.own.set(place, [...nodes].map((node) => node.cloneNode(true)));
      }
    }
  }

  /**
   * Put new parts in; what the reader has opened stays open.
   * @param {string} place
   * @param {Node[]} parts
   */
  put(place, parts) {
    const opened = [...this.root.querySelectorAll(`${place} details[open]`)];
    this.root.querySelector(place)?.replaceChildren(...parts);
    for (const { className } of opened) {
      this.root.querySelector(`${place} details.${className}`)?.setAttribute("open", "");
    }
  }

  /** Put back what the page has. */
  putBack() {
    this.own.forEach((nodes, place) =>
      this.put(place, nodes.map((node) => node.cloneNode(true))),
    );
  }
}
