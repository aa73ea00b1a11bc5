/** Signing in with a token, for who has one and no account. */

import { useQueryClient } from "@tanstack/react-query";
import { type FormEvent, useRef } from "react";
import { keepToken } from "../api/token.js";
import { useSpeech } from "../words/language.js";
import { aboutWho } from "./who.js";

export function TokenForm() {
  const { words } = useSpeech();
  const queries = useQueryClient();
  const token = useRef<HTMLInputElement>(null);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const given = token.current!.value.trim();
    if (given === "") return token.current!.focus();
    keepToken(given);
    void queries.invalidateQueries({ queryKey: aboutWho.queryKey });
  };
  return (
    <details className="with-token">
      <summary>{words.signIn.tokenInstead}</summary>
      <form className="sign-in" onSubmit={submit}>
        <label htmlFor="token">{words.signIn.token}</label>
        <input
          ref={token}
          id="token"
          type="password"
          autoComplete="off"
          spellCheck={false}
          aria-describedby="token-hint"
        />
        <p id="token-hint" className="soft">
          {words.signIn.hint}
        </p>
        <button type="submit" className="act">
          {words.signIn.withToken}
        </button>
      </form>
    </details>
  );
}
