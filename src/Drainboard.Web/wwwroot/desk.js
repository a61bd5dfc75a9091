// The framework shows the panel by class names on the dialog; a circuit that is gone for good means a fresh page.
const panel = document.getElementById("components-reconnect-modal");
panel?.addEventListener("components-reconnect-state-changed", event => {
  const state = event.detail.state;
  if (state === "show") panel.showModal();
  else if (state === "hide") panel.close();
  else if (state === "rejected" || state === "resume-failed") location.reload();
  else if (state === "failed") document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") location.reload(); }, { once: true });
});
// Arrow keys move from row to row in a list of rows.
document.addEventListener("keydown", event => {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  const rows = step && event.target.matches?.("[data-row]") ? [...document.querySelectorAll("[data-row]")] : [];
  const next = rows[rows.indexOf(event.target) + step];
  if (!next) return;
  event.preventDefault();
  next.focus();
});
// What a desk page offers to copy: the button names the element.
document.addEventListener("click", async event => {
  const button = event.target.closest("[data-copy]");
  if (!button) return;
  try { await navigator.clipboard.writeText(document.getElementById(button.dataset.copy).textContent); button.textContent = "Copied"; }
  catch { button.textContent = "Select it and copy"; }
});
document.getElementById("load-again")?.addEventListener("click", () => location.reload());
// An item is dragged along the lanes by mouse, pen or finger: the page is told what was let go on which lane. Kept here by name, so that a page drawn anew in between loses nothing.
let drag = null;
const laneAt = event => document.elementsFromPoint(event.clientX, event.clientY).map(one => one.closest("[data-lane]")).find(one => one);
const markLane = lane => document.querySelectorAll("[data-lane]").forEach(one => one.classList.toggle("over", one === lane));
document.addEventListener("pointerdown", event => {
  const block = event.button === 0 && event.target.closest?.("[data-drag]");
  drag = block ? { item: block.dataset.drag, x: event.clientX, y: event.clientY, moved: false } : null;
});
document.addEventListener("pointermove", event => {
  if (!drag || !event.buttons) return;
  drag.moved ||= Math.hypot(event.clientX - drag.x, event.clientY - drag.y) > 8;
  if (drag.moved) markLane(laneAt(event));
});
document.addEventListener("pointerup", event => {
  if (!drag?.moved) return;
  const ended = drag;
  setTimeout(() => { if (drag === ended) drag = null; }); // The click of this very press comes first.
  const [lane, told] = [laneAt(event), document.querySelector("[data-dropped]")];
  markLane(null);
  if (!lane || !told) return;
  told.value = `${drag.item} ${lane.dataset.lane}`;
  told.dispatchEvent(new Event("change", { bubbles: true }));
});
document.addEventListener("pointercancel", () => { drag = null; markLane(null); });
document.addEventListener("click", event => { if (drag?.moved) { event.preventDefault(); event.stopPropagation(); } drag = null; }, true);
