/** The form that asks who somebody is: a name and a password, or a token. Says why when it was turned down. */

import { Refused } from "./client.js";
import { element } from "./elements.js";
import { words } from "./words.js";

export interface Entering {
  /** Where else to sign in; null for nowhere. */
  readonly provider: Promise<string | null>;
  /** Resolves once signed in; rejects with Refused. */
  readonly signIn: (username: string, password: string) => Promise<void>;
  readonly enter: (token: string) => void;
}

/** `told` is what to say first: that a session has ended, or a token was not accepted. */
export function signInForm(told: string | null, { provider, signIn, enter }: Entering): HTMLElement {
  const message = element("p", { class: "notice", role: "alert" });
  const tell = (text: string | null) => {
    message.textContent = text ?? "";
    message.hidden = text === null;
  };
  tell(told);
  const username = field("username", words.signIn.username, {
    autocomplete: "username",
    spellcheck: "false",
  });
  const password = field("password", words.signIn.password, {
    type: "password",
    autocomplete: "current-password",
  });
  const button = element("button", { type: "submit" }, words.signIn.button);
  const form = element(
    "form",
    { class: "sign-in" },
    element("h1", {}, words.signIn.heading),
    message,
    ...username.parts,
    ...password.parts,
    button,
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (username.input.value.trim() === "") {
      tell(words.signIn.empty);
      return username.input.focus();
    }
    button.disabled = true;
    signIn(username.input.value.trim(), password.input.value)
      .catch((failure: unknown) => {
        tell(failure instanceof Refused ? failure.detail : words.failed.noAnswer);
        password.input.value = "";
        password.input.focus();
      })
      .finally(() => {
        button.disabled = false;
      });
  });
  void provider.then((address) => {
    if (address !== null) form.append(element("a", { href: address }, words.signIn.atProvider));
  });
  return element("div", {}, form, tokenForm(enter));
}

/** For who has a token and no account. */
function tokenForm(enter: (token: string) => void): HTMLElement {
  const token = field("token", words.signIn.token, {
    type: "password",
    autocomplete: "off",
    spellcheck: "false",
    "aria-describedby": "token-hint",
  });
  const form = element(
    "form",
    { class: "sign-in" },
    ...token.parts,
    element("p", { id: "token-hint", class: "soft" }, words.signIn.hint),
    element("button", { type: "submit" }, words.signIn.withToken),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const given = token.input.value.trim();
    if (given !== "") enter(given);
    else token.input.focus();
  });
  return element("details", { class: "with-token" }, element("summary", {}, words.signIn.tokenInstead), form);
}

function field(id: string, label: string, attributes: Record<string, string>) {
  const input = element("input", { id, ...attributes });
  return { input, parts: [element("label", { for: id }, label), input] };
}
