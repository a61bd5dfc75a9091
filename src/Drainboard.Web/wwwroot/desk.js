// The framework shows the panel by class names on the dialog; a circuit that is gone for good means a fresh page.
const panel = document.getElementById("components-reconnect-modal");
panel?.addEventListener("components-reconnect-state-changed", event => {
  const state = event.detail.state;
  if (state === "show") panel.showModal();
  else if (state === "hide") panel.close();
  else if (state === "rejected" || state === "resume-failed") location.reload();
  else if (state === "failed") document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") location.reload(); }, { once: true });
});
document.getElementById("load-again")?.addEventListener("click", () => location.reload());
