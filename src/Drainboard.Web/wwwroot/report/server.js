// Asks our server, and knows it from a cabin network that answers in its place: only our mark together with JSON counts.
const slow = 30000;

// Answers { kind, status, body }: "ok", "refused" (it was read and is not taken as it is), "sign-in", "busy" (ask again soon), "unsent".
export async function ask(path, { method = "GET", json, bytes, headers = {}, ticket, timeout = slow } = {}) {
  let answer, body;
  try {
    answer = await fetch(path, {
      method, redirect: "error", credentials: "same-origin", cache: "no-store", signal: AbortSignal.timeout(timeout),
      headers: { Accept: "application/json", "X-Device-Time": deviceTime(), ...(json ? { "Content-Type": "application/json" } : {}), ...(ticket ? { "X-Crew-Ticket": ticket } : {}), ...headers },
      body: json ? JSON.stringify(json) : bytes,
    });
    if (answer.headers.get("X-Drainboard") !== "1" || !/\bjson\b/.test(answer.headers.get("Content-Type") ?? "")) return answer.status === 401 && answer.headers.get("X-Drainboard") === "1" ? { kind: "sign-in", status: 401 } : { kind: "unsent" };
    body = await answer.json();
  } catch { return { kind: "unsent" }; }
  const kind = answer.ok ? "ok" : answer.status === 401 ? "sign-in" : answer.status === 409 || answer.status === 429 || answer.status >= 500 ? "busy" : "refused";
  return { kind, status: answer.status, body };
}

// What this device's clock says, with its offset: the server keeps it beside its own time.
export function deviceTime(at = new Date()) {
  const minutes = -at.getTimezoneOffset();
  const two = value => String(Math.floor(Math.abs(value))).padStart(2, "0");
  return new Date(at.getTime() + minutes * 60000).toISOString().slice(0, 19) + (minutes < 0 ? "-" : "+") + two(minutes / 60) + ":" + two(minutes % 60);
}
