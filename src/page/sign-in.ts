/** The form that asks for a token; says why when one was turned down. */

import { element } from "./elements.js";
import { words } from "./words.js";

/** `refused` says that the last token was not accepted; `enter` receives the next one. */
export function signInForm(refused: boolean, enter: (token: string) => void): HTMLElement {
  const message = element("p", { class: "notice", role: "alert" });
  message.textContent = refused ? words.signIn.refused : "";
  message.hidden = !refused;
  const input = element("input", {
    id: "token",
    type: "password",
    autocomplete: "current-password",
    spellcheck: "false",
    "aria-describedby": "token-hint",
  });
  const form = element(
    "form",
    { class: "sign-in" },
    element("h1", {}, words.signIn.heading),
    message,
    element("label", { for: "token" }, words.signIn.label),
    input,
    element("p", { id: "token-hint", class: "soft" }, words.signIn.hint),
    element("button", { type: "submit" }, words.signIn.button),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const token = input.value.trim();
    if (token !== "") return enter(token);
    message.textContent = words.signIn.empty;
    message.hidden = false;
    input.focus();
  });
  return form;
}
