// Field pages: what is typed survives a dead network and a reload. A draft is kept while typing; a form is stored on the
// device before it is sent, leaves the device only when our own server has answered, and says plainly while it is not sent.
// Drafts and waiting forms belong to one person: the next one on a shared device neither sends nor sees them.
const me = document.getElementById("field")?.dataset.person ?? "";
const db = new Promise((resolve, reject) => {
  const open = indexedDB.open("drainboard", 1);
  open.onupgradeneeded = () => { open.result.createObjectStore("outbox", { keyPath: "id" }); open.result.createObjectStore("drafts", { keyPath: "key" }); };
  open.onsuccess = () => resolve(open.result);
  open.onerror = () => reject(open.error);
});
db.catch(() => {});

async function store(name, mode, act) {
  const transaction = (await db).transaction(name, mode);
  const request = act(transaction.objectStore(name));
  return new Promise((resolve, reject) => { transaction.oncomplete = () => resolve(request?.result); transaction.onerror = transaction.onabort = () => reject(transaction.error); });
}

const outbox = {
  all: () => store("outbox", "readonly", s => s.getAll()),
  put: entry => store("outbox", "readwrite", s => s.put(entry)),
  remove: id => store("outbox", "readwrite", s => s.delete(id)),
};
const drafts = {
  get: key => store("drafts", "readonly", s => s.get(key)),
  put: draft => store("drafts", "readwrite", s => s.put(draft)),
  remove: key => store("drafts", "readwrite", s => s.delete(key)),
};

const keyOf = form => me + " " + location.pathname + location.search + "#" + form.dataset.keep;
const isFresh = input => input.dataset?.fresh !== undefined; // What is confirmed here and now is never taken from a draft.
const isOurs = name => name.startsWith("__") || name.startsWith("_handler") || /\.(CommandId|Version|Zone|SavedAt)$/.test(name);

function bind() {
  for (const form of document.querySelectorAll("form[data-keep]")) {
    if (form.dataset.bound) continue;
    form.dataset.bound = "1";
    restore(form);
    form.addEventListener("input", () => keep(form).catch(() => {}));
    form.addEventListener("submit", event => { event.preventDefault(); submit(form, event.submitter); });
  }
  for (const button of document.querySelectorAll("[data-copy]")) button.onclick = () => copy(button);
  document.dispatchEvent(new Event("bound"));
}

async function copy(button) {
  const text = document.getElementById(button.dataset.copy);
  try { await navigator.clipboard.writeText(text.textContent); button.textContent = "Copied"; }
  catch { getSelection().selectAllChildren(text); button.textContent = "Selected: copy it with your keyboard"; }
}

function fieldsOf(form, submitter) {
  const data = new FormData(form, submitter ?? undefined);
  return [...data].filter(([, value]) => !(value instanceof File && value.size === 0));
}

async function keep(form) {
  const fields = fieldsOf(form).filter(([name, value]) => !isOurs(name) && typeof value === "string" && form.elements[name]?.type !== "password");
  await drafts.put({ key: keyOf(form), fields, at: Date.now() });
}

async function restore(form) {
  if (form.dataset.answered) return;
  const draft = await drafts.get(keyOf(form)).catch(() => null);
  if (!draft) return;
  for (const input of form.elements) {
    if (!input.name || isOurs(input.name) || input.type === "file" || input.type === "hidden" || isFresh(input)) continue;
    const values = draft.fields.filter(([name]) => name === input.name).map(([, value]) => value);
    // Several fields of one name keep their order, hidden ones among them.
    const place = [...form.elements].filter(other => other.name === input.name).indexOf(input);
    if (input.type === "radio" || input.type === "checkbox") input.checked = values.includes(input.value);
    else if (place < values.length) input.value = values[place];
  }
  form.closest("details")?.setAttribute("open", "");
  say(form, "What you typed here before is back.");
}

function say(form, words) {
  let note = form.querySelector(".kept");
  if (!note) { note = document.createElement("p"); note.className = "kept quiet"; note.setAttribute("role", "status"); form.prepend(note); }
  note.textContent = words;
}

async function submit(form, submitter) {
  // Stored again before an answer came, it is still the wish of then.
  for (const stamp of form.querySelectorAll("[data-saved-at]")) stamp.value ||= new Date().toISOString();
  const fields = fieldsOf(form, submitter);
  const id = fields.find(([name]) => name.endsWith(".CommandId"))?.[1] ?? crypto.randomUUID();
  const entry = { id, person: me, url: location.href, key: keyOf(form), title: document.title, fields, at: Date.now(), repeats: form.dataset.repeats !== undefined };
  if (form.querySelector("input[type=password]")) return sign(form, entry);
  try { await outbox.put(entry); }
  catch {
    // No storage on this device: send it the plain way rather than not at all. A form sent so does not say which button was pressed.
    if (submitter?.name) { const said = document.createElement("input"); said.type = "hidden"; said.name = submitter.name; said.value = submitter.value; form.append(said); }
    form.submit();
    return;
  }
  form.setAttribute("aria-busy", "true");
  const outcome = await send(entry);
  form.removeAttribute("aria-busy");
  if (outcome === "unsent") { say(form, "Not sent: no connection. It is kept on this device and sends by itself."); form.classList.add("waits"); }
  if (outcome === "unsent" && form.dataset.repeats !== undefined) await begin(form, entry);
  await show();
}

// A signature is given here and now: its secret is never kept on the device, so nothing of it waits. The wish keeps its id: sent again, it counts once.
async function sign(form, entry) {
  form.setAttribute("aria-busy", "true");
  const outcome = await send({ ...entry, signs: true });
  form.removeAttribute("aria-busy");
  if (outcome === "unsent" || outcome === "trouble") say(form, "No answer came, so it is not known whether your signature arrived. Nothing is kept on this device. Sign again here once there is a connection: it counts once.");
}

// A form that is filled again and again, each time a wish of its own: what waits is not overwritten by the next.
async function begin(form, sent) {
  await forget(sent);
  form.querySelector("[name$='.CommandId']").value = crypto.randomUUID();
  for (const stamp of form.querySelectorAll("[data-poured-at], [data-saved-at]")) stamp.value = "";
  form.reset();
  document.dispatchEvent(new Event("bound"));
}

async function forget(entry) {
  await drafts.remove(entry.key);
  try { localStorage.removeItem("watch " + entry.key); } catch { /* A stopped watch is forgotten by itself. */ }
}

const underway = new Set();
async function send(entry) {
  if (underway.has(entry.id)) return "underway";
  underway.add(entry.id);
  try { return await post(entry); } finally { underway.delete(entry.id); }
}

async function post(entry, fresh) {
  const body = new FormData();
  for (const [name, value] of fresh ?? entry.fields) body.append(name, value);
  let answer;
  try {
    answer = await fetch(entry.url, { method: "POST", body, redirect: "follow", credentials: "same-origin", headers: { "X-Outbox": "1" } });
  } catch {
    return "unsent";
  }
  // A cabin network's own page may answer for us; only our mark counts.
  if (answer.headers.get("X-Drainboard") !== "1") return "unsent";
  if (answer.status >= 500) return "trouble";
  const form = entry.url === location.href ? [...document.querySelectorAll("form[data-keep]")].find(one => keyOf(one) === entry.key) : null;
  const movedOn = form?.dataset.repeats !== undefined && form.querySelector("[name$='.CommandId']").value !== entry.id;
  const here = Boolean(form) && !movedOn;
  if (new URL(answer.url).pathname === "/sign-in") return await attention(entry, "Sign in again; it is kept on this device.", here && answer.url);
  if (answer.status === 400 && !fresh) {
    // The page was older than this person's sign-in: take a fresh form token and try once more.
    const token = await freshToken(entry);
    return token ? post(entry, entry.fields.map(([name, value]) => name === "__RequestVerificationToken" ? [name, token] : [name, value])) : "trouble";
  }
  if (answer.status >= 400) return await attention(entry, "It was not taken. Open the page and send it again.");
  if (answer.redirected) {
    // Whatever else waited for this same form is answered with it; of one that repeats, each waits for itself.
    for (const other of await outbox.all()) if (other.id === entry.id || other.key === entry.key && !entry.repeats) await outbox.remove(other.id);
    if (movedOn) say(form, "What waited here is sent.");
    else await forget(entry);
    if (here) go(answer.url);
    return "sent";
  }
  // The server has read it and says what is missing: the page shows that, with everything that was typed.
  const main = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("field");
  const why = main?.querySelector("[role=alert]")?.textContent.trim();
  if (!here) return await attention(entry, why ? `It was not accepted: ${why}` : "It was read but not accepted. Open the page to see why.");
  await outbox.remove(entry.id);
  if (main) {
    // The eye goes to the reason, not to the field that a fresh page begins at.
    for (const first of main.querySelectorAll("[autofocus]")) first.removeAttribute("autofocus");
    document.getElementById("field").replaceWith(main);
    for (const form of main.querySelectorAll("form[data-keep]")) form.dataset.answered = "1";
    giveBackFiles([...main.querySelectorAll("form[data-keep]")].find(one => keyOf(one) === entry.key) ?? main, entry.fields);
    bind();
    (main.querySelector("[role=alert]") ?? main).scrollIntoView({ block: "start" });
  }
  return "answered";
}

// A page that is worked through from line to line opens again where it was.
function go(address) {
  try { if (document.querySelector("[data-stays]") && new URL(address).pathname === location.pathname) sessionStorage.setItem("stays", `${scrollY} ${location.pathname}`); } catch { /* It opens at its head. */ }
  location.assign(address);
}

function stay() {
  try {
    const [, at, path] = sessionStorage.getItem("stays")?.match(/^(\S+) (.*)$/) ?? [];
    sessionStorage.removeItem("stays");
    if (path === location.pathname && document.querySelector("[data-stays]")) scrollTo(0, Number(at));
  } catch { /* It opens at its head. */ }
}

// A page may not fill a file field, but what was chosen a moment ago may be put back into it.
function giveBackFiles(form, fields) {
  for (const input of form.querySelectorAll("input[type=file]")) {
    const chosen = new DataTransfer();
    for (const [name, value] of fields) if (name === input.name && value instanceof File) chosen.items.add(value);
    input.files = chosen.files;
  }
}

async function attention(entry, words, go) {
  if (entry.signs) { if (go) location.assign(go); return "trouble"; }
  await outbox.put({ ...entry, attention: words });
  if (go) location.assign(go);
  return "attention";
}

async function freshToken(entry) {
  try {
    const page = new DOMParser().parseFromString(await (await fetch(entry.url, { credentials: "same-origin" })).text(), "text/html");
    // Never under another person's name.
    if (page.getElementById("field")?.dataset.person !== entry.person) return null;
    return page.querySelector("input[name=__RequestVerificationToken]")?.value;
  } catch { return null; }
}

// In the order in which they were made: a step done later goes on record later.
const mine = async () => (await outbox.all().catch(() => [])).filter(entry => entry.person === me).sort((a, b) => a.at - b.at);

async function show() {
  const bar = document.getElementById("unsent");
  const waiting = await mine();
  bar.hidden = waiting.length === 0;
  if (!waiting.length) return;
  const minutes = Math.floor((Date.now() - Math.min(...waiting.map(entry => entry.at))) / 60000);
  const asks = waiting.find(entry => entry.attention);
  const words = document.getElementById("unsent-words");
  words.textContent = `Not sent: ${waiting.length} on this device, oldest ${minutes < 1 ? "just now" : minutes + " min ago"}. ${asks ? asks.attention + " " : "It sends by itself."}`;
  if (asks) {
    const link = document.createElement("a"); link.href = asks.url; link.textContent = asks.title; words.append(link, " ");
    const drop = document.createElement("button"); drop.type = "button"; drop.textContent = "Discard it";
    drop.onclick = async () => { await outbox.remove(asks.id); await show(); };
    words.append(drop);
  }
}

// A figure that moves while somebody looks is read again each half minute, and whenever the page comes to the front.
async function refresh() {
  for (const shown of document.querySelectorAll("[data-live]")) {
    try {
      const answer = await fetch(shown.dataset.live, { credentials: "same-origin" });
      const words = answer.ok ? shown.dataset.liveAt.split(".").reduce((value, name) => value?.[name], await answer.json()) : null;
      if (words) shown.textContent = words;
    } catch { /* No connection: what stands there was right when it was read. */ }
  }
}

let busy = false;
async function sendAll() {
  if (busy || !me) return;
  busy = true;
  try {
    for (const entry of await mine()) if (!entry.attention && await send(entry) === "unsent") break;
    await show();
  } finally { busy = false; }
}

document.getElementById("unsent-send")?.addEventListener("click", async () => {
  for (const entry of await mine()) if (entry.attention) await outbox.put({ ...entry, attention: undefined });
  await sendAll();
});
// A browser that brings a page back brings its ticks back; what is confirmed here and now is asked again.
addEventListener("pageshow", () => { for (const input of document.querySelectorAll("[data-fresh]")) input.checked = input.defaultChecked; });
addEventListener("online", sendAll);
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") { sendAll(); refresh(); } });
setInterval(sendAll, 15000);
setInterval(refresh, 30000);
bind();
stay();
await show();
sendAll();
