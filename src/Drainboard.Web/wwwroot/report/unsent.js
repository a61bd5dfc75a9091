// How much waits on this device, whoever wrote it, and since when. Never what it says.
import * as outbox from "./outbox.js";
import * as people from "./people.js";
import { h } from "./dom.js";
import { ago, t } from "./words.js";

const bar = document.getElementById("unsent");
const words = h("span");
const button = h("button", {
  type: "button",
  onclick: async () => {
    button.setAttribute("aria-busy", "true");
    await outbox.sendAll(true);
    button.removeAttribute("aria-busy");
    await showUnsent();
  },
});
bar.append(words, button);

export async function showUnsent() {
  const waiting = await outbox.unsent();
  bar.hidden = waiting.length === 0;
  if (!waiting.length) return;
  const asks = waiting.filter(row => row.reason === "sign-in");
  const names = (await people.everybody()).filter(person => asks.some(row => row.owner === person.id)).map(person => person.name);
  words.textContent = `${t("unsent", { count: waiting.length, ago: ago(Date.now() - Math.min(...waiting.map(row => row.at))) })} ${names.length ? t("unsent.sign-in", { names: names.join(", ") }) : waiting.some(row => row.state === "attention") ? t("unsent.attention") : t("unsent.self")}`;
  button.textContent = t("send-now");
}
