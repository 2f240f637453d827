/**
 * A field tells what was typed when it is left: in the middle of a tap on something else, between its press and its release. What is drawn
 * anew just then swallows the tap, and Tab loses its way. So whatever leaving a field brings about waits until that is over.
 *
 *     press ──field is left──▶ (waits) ──release──click──▶ it is told
 *     Tab ────field is left──▶ (waits) ──next field has the focus──▶ it is told
 */
let isPressed = false;
let waiting: readonly (() => void)[] = [];

function letGo(): void {
  isPressed = false;
  // The click comes right after the release.
  setTimeout(() => {
    const work = waiting;
    waiting = [];
    for (const one of work) one();
  });
}
// Of a finger, too: browsers tell of its tap as of a mouse's, and the focus moves only then.
addEventListener("mousedown", () => void (isPressed = true), true);
for (const end of ["mouseup", "dragend"]) addEventListener(end, letGo, true);
// Of the window alone: the field's own, which a listener on the way down would hear too, comes in the middle of the tap.
addEventListener("blur", letGo);

export function whenReleased(work: () => void): void {
  waiting = [...waiting, work];
  if (!isPressed) letGo();
}
