// How much waits on this device, whoever wrote it, and since when. Never what it says.
import * as outbox from "./outbox.js";
import * as people from "./people.js";
import { h } from "./dom.js";
import { ago, t } from "./words.js";

const bar = document.getElementById("unsent");
const words = h("span", { role: "status" });
const oldest = h("span", { class: "quiet" });
const button = h("button", {
  type: "button",
  onclick: async () => {
    button.setAttribute("aria-busy", "true");
    noConnection = await outbox.sendAll(true) === "unsent";
    button.removeAttribute("aria-busy");
    await showUnsent();
    noConnection = false;
  },
});
bar.append(h("span", {}, words, " ", oldest), button);
let noConnection = false;

export async function showUnsent() {
  const waiting = await outbox.unsent();
  bar.hidden = waiting.length === 0;
  if (!waiting.length) return;
  const asks = waiting.filter(row => row.reason === "sign-in");
  const names = (await people.everybody()).filter(person => asks.some(row => row.owner === person.id)).map(person => person.name);
  const text = `${t("unsent", { count: waiting.length })} ${noConnection ? t("unsent.no-connection") : names.length ? t("unsent.sign-in", { names: names.join(", ") }) : waiting.some(row => row.state === "attention") ? t("unsent.attention") : t("unsent.self")}`;
  // Read out when it changes; its age alone is not news.
  if (words.textContent !== text) words.textContent = text;
  oldest.textContent = t("unsent.oldest", { ago: ago(Date.now() - Math.min(...waiting.map(row => row.at))) });
  button.textContent = t("send-now");
}
