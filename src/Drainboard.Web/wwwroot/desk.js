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
