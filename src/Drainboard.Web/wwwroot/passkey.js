// Passkeys: the browser makes or uses one, the server checks it. Without this script, or in a browser without passkeys, password and name remain.
const can = typeof PublicKeyCredential === "function" && typeof PublicKeyCredential.parseRequestOptionsFromJSON === "function";

const ask = async (path, body) => {
  const answer = await fetch(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
  if (answer.ok) return answer.status === 204 ? null : await answer.json();
  const told = answer.headers.get("Content-Type")?.includes("json") ? await answer.json() : null;
  throw new Error(told?.detail ?? "That did not work. Look at the connection and try again.");
};

const guarded = async (place, act) => {
  const trouble = place.querySelector("[data-passkey-trouble]"), go = place.querySelector("[data-passkey-go]");
  trouble.hidden = true;
  go.disabled = true;
  try {
    await act();
  } catch (failure) {
    // The person closed the browser's own window, or it found none: that is no fault.
    trouble.textContent = failure.name === "NotAllowedError" ? "No passkey was used. Try again, or sign in with your password." : failure.name === "InvalidStateError" ? "This device has a passkey for you already." : failure.message;
    trouble.hidden = false;
  } finally {
    go.disabled = false;
  }
};

const add = document.querySelector("[data-passkey-add]"), enter = document.querySelector("[data-passkey-sign-in]");

if (can && add) {
  add.hidden = false;
  document.querySelector("[data-passkey-none]").hidden = true;
  add.querySelector("[data-passkey-go]").addEventListener("click", () => guarded(add, async () => {
    const options = await ask("/passkeys/creation-options", { password: add.querySelector("[type=password]").value });
    const credential = await navigator.credentials.create({ publicKey: PublicKeyCredential.parseCreationOptionsFromJSON(options) });
    await ask("/passkeys", { credential: JSON.stringify(credential), name: add.querySelector("[type=text]").value });
    location.reload();
  }));
}

if (can && enter) {
  enter.hidden = false;
  enter.querySelector("[data-passkey-go]").addEventListener("click", () => guarded(enter, async () => {
    const options = await ask("/passkeys/request-options", {});
    const credential = await navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(options) });
    await ask("/passkeys/sign-in", { credential: JSON.stringify(credential) });
    location.assign(enter.dataset.passkeyBack);
  }));
}
