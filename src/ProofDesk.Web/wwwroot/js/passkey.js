// Passkeys (W3C Web Authentication 3): fetches the question, has the authenticator answer it, sends the answer as a plain form.
for (const form of document.querySelectorAll("form[data-passkey]")) {
  const said = form.querySelector("[data-passkey-said]");
  const button = form.querySelector("button");
  form.hidden = false;
  if (!window.PublicKeyCredential?.parseRequestOptionsFromJSON || !navigator.credentials) {
    button.disabled = true;
    said.textContent = window.isSecureContext
      ? "This browser is too old for passkeys."
      : "Passkeys need https; this page came without it.";
    continue;
  }
  form.addEventListener("submit", async (sent) => {
    sent.preventDefault();
    button.disabled = true;
    said.textContent = "Waiting for your passkey.";
    try {
      form.elements.Credential.value = JSON.stringify(await answer(form));
      HTMLFormElement.prototype.submit.call(form);
    } catch (refusal) {
      button.disabled = false;
      said.textContent = words(refusal);
    }
  });
}

async function answer(form) {
  const asked = await fetch(form.getAttribute("action") + "/options", {
    method: "POST",
    redirect: "error",
    headers: { RequestVerificationToken: form.elements.__RequestVerificationToken.value },
  });
  if (!asked.ok) throw new Error(`the server answered ${asked.status}`);
  const question = await asked.json();
  return form.dataset.passkey === "create"
    ? navigator.credentials.create({ publicKey: PublicKeyCredential.parseCreationOptionsFromJSON(question) })
    : navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(question) });
}

function words(refusal) {
  switch (refusal.name) {
    case "NotAllowedError":
      return "No passkey answered, or you called it off. Try once more.";
    case "InvalidStateError":
      return "This device already holds a passkey for this account.";
    case "SecurityError":
      return "This page is not at the desk's public address; passkeys work there only.";
    default:
      return `It did not work: ${refusal.message}. Load the page again and try once more.`;
  }
}
