/**
 * The engine translates often used code better, after a while: a request, worked out again while
 * nobody asks, makes the reader's own entries quick from the first.
 */

/** How often requests are worked out again, how long apart, and every how many times with their
 *  drawings. What takes longer than this is not practised: an entry would have to wait for it. */
let rounds = 24;
const BREATH_MS = 30;
const DRAWN = 6;
const LONGEST_MS = 300;

/** @type {object | null} */
let practised = null;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let idle;
let waits = false;

/**
 * From now on this request is the one that is practised.
 * @param {string} request
 * @param {(request: string) => string} evaluate
 */
export function practise(request, evaluate) {
  practised = JSON.parse(request);
  goOn(evaluate);
}

/** Put practice off: only what is translated after the module has come is kept. */
export function putOff() {
  waits = true;
  clearTimeout(idle);
}

/** Begin with what was put off. @param {(request: string) => string} evaluate */
export function takeUp(evaluate) {
  waits = false;
  goOn(evaluate);
}

/** Between two times an entry that has come meanwhile is heard. @param {(request: string) => string} evaluate */
function goOn(evaluate) {
  clearTimeout(idle);
  const request = practised;
  if (rounds > 0 && request !== null && !waits) {
    idle = setTimeout(() => {
      rounds -= 1;
      const since = performance.now();
      try {
        evaluate(JSON.stringify({ ...request, anew: true, drawings: rounds % DRAWN === 0 }));
      } catch {
        return; // whatever it is, the next request meets it too, and is answered with it
      }
      if (performance.now() - since < LONGEST_MS) {
        goOn(evaluate);
      }
    }, BREATH_MS);
  }
}
