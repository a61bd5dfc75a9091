// Field pages: what is typed survives a dead network and a reload. A draft is kept while typing; a form is stored on the
// device before it is sent, leaves the device only when our own server has answered, and says plainly while it is not sent.
const db = new Promise((resolve, reject) => {
  const open = indexedDB.open("drainboard", 1);
  open.onupgradeneeded = () => { open.result.createObjectStore("outbox", { keyPath: "id" }); open.result.createObjectStore("drafts", { keyPath: "key" }); };
  open.onsuccess = () => resolve(open.result);
  open.onerror = () => reject(open.error);
});

async function store(name, mode, act) {
  const transaction = (await db).transaction(name, mode);
  const request = act(transaction.objectStore(name));
  return new Promise((resolve, reject) => { transaction.oncomplete = () => resolve(request?.result); transaction.onerror = () => reject(transaction.error); });
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

const keyOf = form => location.pathname + location.search + "#" + form.dataset.keep;
const isOurs = name => name.startsWith("__") || name.startsWith("_handler") || /\.(CommandId|Version)$/.test(name);

function bind() {
  for (const form of document.querySelectorAll("form[data-keep]")) {
    if (form.dataset.bound) continue;
    form.dataset.bound = "1";
    restore(form);
    form.addEventListener("input", () => keep(form));
    form.addEventListener("submit", event => { event.preventDefault(); submit(form, event.submitter); });
  }
  for (const button of document.querySelectorAll("[data-copy]")) {
    button.onclick = async () => { await navigator.clipboard.writeText(document.getElementById(button.dataset.copy).textContent); button.textContent = "Copied"; };
  }
}

function fieldsOf(form, submitter) {
  const data = new FormData(form, submitter ?? undefined);
  return [...data].filter(([, value]) => !(value instanceof File && value.size === 0));
}

function keep(form) {
  const fields = fieldsOf(form).filter(([name, value]) => !isOurs(name) && typeof value === "string");
  return drafts.put({ key: keyOf(form), fields, at: Date.now() });
}

async function restore(form) {
  if (form.dataset.answered) return;
  const draft = await drafts.get(keyOf(form)).catch(() => null);
  if (!draft) return;
  for (const input of form.elements) {
    if (!input.name || isOurs(input.name) || input.type === "file" || input.type === "hidden") continue;
    const values = draft.fields.filter(([name]) => name === input.name).map(([, value]) => value);
    if (input.type === "radio" || input.type === "checkbox") input.checked = values.includes(input.value);
    else if (values.length) input.value = values[0];
  }
  say(form, "What you typed here before is back.");
}

function say(form, words) {
  let note = form.querySelector(".kept");
  if (!note) { note = document.createElement("p"); note.className = "kept quiet"; note.setAttribute("role", "status"); form.prepend(note); }
  note.textContent = words;
}

async function submit(form, submitter) {
  const fields = fieldsOf(form, submitter);
  const id = fields.find(([name]) => name.endsWith(".CommandId"))?.[1] ?? crypto.randomUUID();
  const entry = { id, url: location.href, key: keyOf(form), title: document.title, fields, at: Date.now() };
  await outbox.put(entry);
  form.setAttribute("aria-busy", "true");
  const outcome = await send(entry);
  form.removeAttribute("aria-busy");
  if (outcome === "unsent") say(form, "Not sent: no connection. It is kept on this device and sends by itself.");
  await show();
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
  if (answer.headers.get("X-Drainboard") !== "1" || answer.status >= 500) return "unsent";
  const here = entry.url === location.href;
  if (new URL(answer.url).pathname === "/sign-in") return await attention(entry, "Sign in again; it is kept on this device.", here && answer.url);
  if (answer.status === 400 && !fresh) {
    // The page was older than the sign-in: take a fresh form token and try once more.
    const token = await freshToken(entry.url);
    if (token) return post(entry, entry.fields.map(([name, value]) => name === "__RequestVerificationToken" ? [name, token] : [name, value]));
  }
  if (answer.redirected) {
    await outbox.remove(entry.id);
    await drafts.remove(entry.key);
    if (here) location.assign(answer.url);
    return "sent";
  }
  // The server has read it and says what is missing: the page shows that, with everything that was typed.
  await outbox.remove(entry.id);
  if (!here) return await attention(entry, "It was read but not accepted. Open the page to see why.");
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const main = page.getElementById("field");
  if (main) {
    document.getElementById("field").replaceWith(main);
    for (const form of main.querySelectorAll("form[data-keep]")) form.dataset.answered = "1";
    bind();
    (main.querySelector("[role=alert]") ?? main).scrollIntoView({ block: "start" });
  }
  return "answered";
}

async function attention(entry, words, go) {
  entry.attention = words;
  await outbox.put(entry);
  if (go) location.assign(go);
  return "attention";
}

async function freshToken(url) {
  try {
    const page = new DOMParser().parseFromString(await (await fetch(url, { credentials: "same-origin" })).text(), "text/html");
    return page.querySelector("input[name=__RequestVerificationToken]")?.value;
  } catch { return null; }
}

async function show() {
  const bar = document.getElementById("unsent");
  const waiting = await outbox.all();
  bar.hidden = waiting.length === 0;
  if (!waiting.length) return;
  const minutes = Math.floor((Date.now() - Math.min(...waiting.map(entry => entry.at))) / 60000);
  const asks = waiting.find(entry => entry.attention);
  const words = document.getElementById("unsent-words");
  words.textContent = `Not sent: ${waiting.length} on this device, oldest ${minutes < 1 ? "just now" : minutes + " min ago"}. ${asks ? asks.attention + " " : "It sends by itself."}`;
  if (asks && asks.url !== location.href) { const link = document.createElement("a"); link.href = asks.url; link.textContent = asks.title; words.append(link); }
}

let busy = false;
async function sendAll() {
  if (busy) return;
  busy = true;
  try { for (const entry of await outbox.all()) if (await send(entry) === "unsent") break; await show(); } finally { busy = false; }
}

document.getElementById("unsent-send")?.addEventListener("click", sendAll);
addEventListener("online", sendAll);
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") sendAll(); });
setInterval(sendAll, 15000);
bind();
await show();
if (!location.pathname.startsWith("/sign-in")) sendAll();
