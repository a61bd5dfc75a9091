// Who is there: a tablet is enrolled once, then a person is chosen and gives a PIN. On a person's own device they sign in with a password.
import * as people from "./people.js";
import { h } from "./dom.js";
import { t } from "./words.js";
import { head, show } from "./page.js";

export async function signInView(here) {
  return here?.device ? pinView(here) : firstView(here);
}

async function pinView(here) {
  const lately = (await people.everybody()).filter(person => !person.waits).slice(-6).reverse();
  let tried = "";
  const said = h("p", { class: "trouble", role: "alert", hidden: true });
  const user = h("input", { type: "text", id: "user", oninput: () => { anyway.hidden = true; }, autocomplete: "off", autocapitalize: "none", spellcheck: "false", required: true });
  const pin = h("input", { type: "password", id: "pin", class: "pin", inputmode: "numeric", autocomplete: "off", required: true, maxlength: "12" });
  const anyway = h("button", { type: "button", hidden: true, onclick: async () => { await people.unknown(tried); await show(); } }, t("pin.anyway"));
  const form = h("form", {
    onsubmit: async event => {
      event.preventDefault();
      form.setAttribute("aria-busy", "true");
      tried = user.value;
      const why = await people.signIn(tried, pin.value);
      form.removeAttribute("aria-busy");
      if (!why) return await show();
      pin.value = "";
      said.textContent = t(why);
      said.hidden = false;
      anyway.hidden = why !== "pin.offline";
    },
  },
  said,
  h("div", {}, h("label", { class: "name", for: "user" }, t("user")), user),
  h("div", {}, h("label", { class: "name", for: "pin" }, t("pin")), h("div", { class: "hint" }, t("pin.hint")), pin),
  here.isDemo && h("p", { class: "hint" }, t("pin.demo")),
  h("button", { class: "go", type: "submit" }, t("sign-in")), anyway);
  const pick = lately.length ? h("div", { class: "pick" }, lately.map(person => h("button", { type: "button", "aria-pressed": "false", onclick: () => { user.value = person.userName; anyway.hidden = true; for (const button of pick.children) button.setAttribute("aria-pressed", String(button.textContent === person.name)); pin.focus(); } }, person.name))) : null;
  return [head(t("report"), here.device.onlyTail, null, h("span", { class: "quiet" }, `${here.operator} · ${here.device.name}`)), h("h2", {}, t("who")), pick, form];
}

function firstView(here) {
  const said = h("p", { class: "trouble", role: "alert", hidden: true });
  const code = h("input", { type: "text", id: "code", autocomplete: "off", autocapitalize: "characters", spellcheck: "false", required: true, value: new URLSearchParams(location.hash.slice(1)).get("code") ?? "" });
  const form = h("form", {
    onsubmit: async event => {
      event.preventDefault();
      const why = await people.enrol(code.value);
      if (why === "") { history.replaceState(null, "", location.pathname + location.search); return await show(); }
      said.textContent = why ?? t("no-connection");
      said.hidden = false;
    },
  }, said, h("div", {}, h("label", { class: "name", for: "code" }, t("enrol.code")), h("div", { class: "hint" }, t("enrol.hint")), code), h("button", { type: "submit" }, t("enrol")));
  return [head(t("report"), null, null, h("span", { class: "quiet" }, here?.operator ?? "")),
    !here && h("p", { class: "trouble" }, t("first.offline")),
    h("section", { class: "sheet" }, h("h2", {}, t("own.title")), h("p", {}, t("own.words")), h("a", { class: "btn go", href: "/sign-in?back=" + encodeURIComponent(location.pathname + location.search) }, t("own.go"))),
    h("section", { class: "sheet" }, h("h2", {}, t("enrol.title")), form)];
}
