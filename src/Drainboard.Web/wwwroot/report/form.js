// What is seen at one fixture. Every answer is kept as it is given: a closed tab, a camera in front or an empty battery costs nothing.
import * as vault from "./vault.js";
import * as outbox from "./outbox.js";
import * as people from "./people.js";
import { caution, choice, h, shown, tick } from "./dom.js";
import { ago, t } from "./words.js";
import { deviceTime } from "./server.js";
import { shrink } from "./photos.js";
import { go, head, show } from "./page.js";
import { knownAt, knownLines, knownOn } from "./aircraft.js";

const mostPhotos = 5;

export async function formView(person, tail, plan, fixture) {
  const draftName = `draft ${person.id} ${tail} ${fixture.position}`;
  const draft = await vault.kept(draftName, person.id);
  const now = await knownOn(tail, person);
  const known = knownAt(now, fixture.position);
  const area = plan.areas.find(one => one.fixtures.includes(fixture));
  const answers = draft ?? { id: outbox.newId(), photos: [], alsoAt: [], name: fixture.name };
  const pictures = new Map();
  const box = h("form", { novalidate: true, autocomplete: "off" });
  let untold = true;
  let opened = false;

  let [saving, reading, writing] = [false, 0, Promise.resolve()];
  // One after the other, and none once the report is saved.
  const keep = () => writing = writing.then(async () => {
    if (saving) return;
    try { await vault.keep(draftName, answers, person.id); untold = true; }
    catch { if (untold) said(t("storage.full.draft")); untold = false; }
  });
  const set = (name, redraw) => value => {
    answers[name] = value;
    trouble.hidden = true;
    // Another symptom is no more of the same.
    if (name === "symptom" && answers.addTo && known?.known.find(one => one.id === answers.addTo)?.symptom !== value) answers.addTo = "";
    keep();
    if (redraw) draw();
  };

  const trouble = h("p", { class: "trouble", role: "alert", id: "trouble", hidden: true });
  // Beside the question that it is about, where there is one; the answer is typed or tapped right there.
  function said(text, at) {
    const field = at && (document.getElementById(at) ?? box.elements.namedItem(at)?.[0]);
    (field?.closest("fieldset, .where, details > div") ?? box.firstChild).before(trouble);
    trouble.textContent = text;
    trouble.hidden = false;
    trouble.scrollIntoView({ block: "center" });
    if (!field) return;
    field.closest("details")?.setAttribute("open", "");
    if (field.type !== "radio") field.setAttribute("aria-invalid", "true");
    field.setAttribute("aria-describedby", trouble.id);
    field.focus({ preventScroll: true });
  }

  const places = ["place.under", "place.floor", "place.panel", "place.tap"];
  const radio = (name, legend, options, hint, redraw) => h("fieldset", {}, h("legend", {}, legend), hint && h("div", { class: "hint" }, hint), h("div", { class: "choices" }, options.map(([value, label]) => choice(name, value, label, answers[name], set(name, redraw)))));

  function draw() {
    const focused = document.activeElement?.id;
    const leaking = answers.leak === "leaking";
    // What was worked on and is seen again is no more of the same: it opens its own, and counts as a repeat.
    const open = known?.known.filter(one => one.state !== "workDone") ?? [];
    box.replaceChildren(...shown([trouble,
      known && h("div", { class: "sheet known" }, h("h2", {}, t("known.title")), knownLines(known),
        open.length > 0 && h("div", { class: "choices" }, open.map(one => choice("addTo", one.id, open.length > 1 ? t("known.add.which", { reference: one.reference, symptom: t("symptom." + one.symptom) }) : t("known.add"), answers.addTo, id => { answers.addTo = id; answers.symptom = one.symptom; keep(); draw(); })), choice("addTo", "", t("known.other"), answers.addTo, set("addTo", true))),
        h("div", { class: "quiet small" }, t("known.as-of", { ago: ago(Date.now() - now.at) }))),
      radio("symptom", t("ask.symptom"), fixture.symptoms.map(name => [name, t("symptom." + name)]), null, true),
      radio("leak", t("ask.leak"), [["noneSeen", t("leak.noneSeen")], ["leaking", t("leak.leaking")], ["didNotLook", t("leak.didNotLook")]], t("ask.leak.hint"), true),
      leaking && caution(t("leak.now"), t("leak.now.words")),
      leaking && h("div", { class: "where" }, h("label", { class: "name", for: "where" }, t("ask.where")),
        h("div", { class: "choices" }, places.map(key => h("button", { type: "button", "aria-pressed": String(answers.leakWhere === t(key)), onclick: () => { answers.leakWhere = t(key); keep(); draw(); } }, t(key)))),
        h("input", { type: "text", id: "where", maxlength: "200", value: answers.leakWhere ?? "", placeholder: t("place.other"), oninput: event => set("leakWhere")(event.target.value) })),
      radio("phase", t("ask.phase"), [["inFlight", t("phase.inFlight")], ["onGround", t("phase.onGround")]]),
      radio("others", t("ask.others"), [["onlyThis", t("others.onlyThis")], ["others", t("others.others")]], null, true),
      answers.others === "others" && h("fieldset", {}, h("legend", {}, t("ask.which")), h("div", { class: "choices" }, area.fixtures.filter(one => one !== fixture).map(one => tick("also", one.name, answers.alsoAt.includes(one.position), on => { answers.alsoAt = on ? [...answers.alsoAt, one.position] : answers.alsoAt.filter(at => at !== one.position); keep(); })))),
      h("details", { ontoggle: event => { opened = event.target.open; }, open: opened || Boolean(answers.words || answers.photos.length || answers.seenAt || answers.log || answers.symptom === "other") }, h("summary", {}, t("more")),
        h("div", {}, h("label", { class: "name", for: "words" }, t("ask.words")), h("textarea", { id: "words", maxlength: "2000", value: answers.words ?? "", oninput: event => set("words")(event.target.value) })),
        h("div", {}, h("label", { class: "name", for: "photos" }, t("ask.photos")), h("div", { class: "hint" }, t("photos.hint", { most: mostPhotos })), h("div", { class: "photos" }, answers.photos.map(shot)),
          answers.photos.length < mostPhotos && h("input", { type: "file", id: "photos", accept: "image/*", capture: "environment", multiple: true, onchange: event => take([...event.target.files]) })),
        h("div", {}, h("label", { class: "name", for: "seen" }, t("ask.when")), h("div", { class: "hint" }, t("when.hint")), h("input", { type: "datetime-local", id: "seen", max: "2999-12-31T23:59", value: answers.seenAt ?? "", oninput: event => set("seenAt")(event.target.value) })),
        logFields()),
      h("button", { class: "go", type: "submit", disabled: reading > 0 }, t(reading > 0 ? "photo.reading" : "save")),
      h("p", { class: "quiet small" }, t("save.hint"))]));
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  }

  function logFields() {
    const log = answers.log ?? {};
    const field = (name, type, label) => h("div", {}, h("label", { class: "name", for: "log-" + name }, label), h("input", { type, id: "log-" + name, maxlength: "20", value: log[name] ?? "", oninput: event => { answers.log = { ...answers.log, [name]: event.target.value }; keep(); } }));
    return h("fieldset", {}, h("legend", {}, t("log")), h("div", { class: "hint" }, t("log.hint")), h("div", { class: "pair short" }, field("page", "text", t("log.page")), field("line", "text", t("log.line"))), field("at", "datetime-local", t("log.at")));
  }

  function shot(one) {
    const image = h("img", { alt: t("photo") });
    if (pictures.has(one.sha)) image.src = pictures.get(one.sha);
    else vault.photo(person.id, answers.id, one.sha).then(bytes => { if (bytes) { pictures.set(one.sha, URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }))); image.src = pictures.get(one.sha); } }).catch(() => {});
    return h("div", { class: "shot" }, image, h("button", { type: "button", "aria-label": t("photo.remove"), onclick: async () => { answers.photos = answers.photos.filter(other => other !== one); await keep(); if (!saving) await vault.dropPhoto(answers.id, one.sha); draw(); } }, "×"));
  }

  async function take(files) {
    reading++;
    draw();
    try { await takeEach(files); } finally { reading--; draw(); }
  }

  async function takeEach(files) {
    for (const file of files.slice(0, mostPhotos - answers.photos.length)) {
      let made;
      try { made = await shrink(file); } catch { said(t("photo.bad", { name: file.name })); continue; }
      if (answers.photos.some(one => one.sha === made.sha)) continue;
      try { await vault.putPhoto(person.id, answers.id, made.sha, made.bytes); } catch { said(t("storage.full.photo")); continue; }
      pictures.set(made.sha, URL.createObjectURL(new Blob([made.bytes], { type: "image/jpeg" })));
      answers.photos.push({ sha: made.sha, size: made.bytes.length, state: "kept" });
      await keep();
    }
  }

  box.addEventListener("submit", async event => {
    event.preventDefault();
    if (saving || reading > 0) return;
    if ((await people.current())?.id !== person.id) return await show();
    const log = answers.log && [answers.log.page, answers.log.line, answers.log.at].map(part => Boolean(part?.trim()));
    const [missing, at] = !answers.symptom ? ["missing.symptom", "symptom"] : !answers.leak ? ["missing.leak", "leak"] : answers.leak === "leaking" && !answers.leakWhere?.trim() ? ["missing.where", "where"] : answers.symptom === "other" && !answers.words?.trim() ? ["missing.words", "words"] : answers.symptom === "leaks" && answers.leak !== "leaking" ? ["missing.leaks", "leak"] : log?.includes(true) && log.includes(false) ? ["missing.log", ["log-page", "log-line", "log-at"][log.indexOf(false)]] : [];
    if (missing) return said(t(missing), at);
    const body = { wish: wishOf(answers, tail, fixture), tail, name: fixture.name, photos: answers.photos };
    await writing;
    saving = true;
    try { await outbox.add(person.id, body, draftName, answers.corrects); }
    catch { saving = false; return said(t("storage.full")); }
    for (const url of pictures.values()) URL.revokeObjectURL(url);
    await go({ tail, view: "mine", saved: body.wish.id });
    (await navigator.serviceWorker?.getRegistration?.("/report"))?.sync?.register("reports").catch(() => {});
    outbox.sendAll(true);
  });

  draw();
  return [head(t("report"), tail, person, h("button", { type: "button", onclick: () => go({ tail }) }, t("fixture.other"))), h("h2", {}, fixture.name), draft && h("p", { class: "quiet", role: "status" }, t("draft.back")), box];
}

// Times are as this device tells them; the server keeps its own beside them.
function wishOf(answers, tail, fixture) {
  const saved = new Date();
  const seen = answers.seenAt ? new Date(answers.seenAt) : saved;
  const log = answers.log?.page?.trim() ? { book: "cabin", page: answers.log.page.trim(), line: answers.log.line.trim(), loggedAt: deviceTime(new Date(answers.log.at)) } : null;
  return {
    id: answers.id, tail, position: fixture.position, symptom: answers.symptom, leak: answers.leak, leakWhere: answers.leak === "leaking" ? answers.leakWhere.trim() : "", phase: answers.phase ?? "notSaid", words: answers.words?.trim() ?? "",
    seenAt: deviceTime(seen), savedAt: deviceTime(saved), offsetMinutes: -saved.getTimezoneOffset(), others: answers.others ?? "didNotLook", alsoAt: answers.others === "others" ? answers.alsoAt : [], addTo: answers.addTo || null, log,
  };
}
