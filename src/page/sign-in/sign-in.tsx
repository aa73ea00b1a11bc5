/** The form that asks who somebody is: a name and a password, or a token. Says why when it was turned down. */

import { useQuery, useQueryClient } from "@tanstack/react-query";
import { type FormEvent, useRef, useState } from "react";
import { client } from "../api/client.js";
import { answerOf, Refused, SignedOut } from "../api/problems.js";
import { Top } from "../ui/frame.js";
import { ViewHeading } from "../ui/heading.js";
import { type Speech, useSpeech } from "../words/language.js";
import { TokenForm } from "./token-form.js";
import { signedIn, type Who } from "./who.js";

export function SignIn({ told }: { readonly told: Who["told"] }) {
  const speech = useSpeech();
  const { words } = speech;
  const queries = useQueryClient();
  const [message, setMessage] = useState(told ? words.signIn[told] : null);
  const [waiting, setWaiting] = useState(false);
  const username = useRef<HTMLInputElement>(null);
  const password = useRef<HTMLInputElement>(null);

  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const body = { username: username.current!.value.trim(), password: password.current!.value };
    if (body.username === "") {
      setMessage(words.signIn.empty);
      return username.current!.focus();
    }
    setWaiting(true);
    try {
      signedIn(queries, await answerOf(client.POST("/v1/session", { body })));
    } catch (failure) {
      setMessage(whyNot(failure, speech));
      setWaiting(false);
      password.current!.value = "";
      password.current!.focus();
    }
  };

  return (
    <>
      <Top unit={null} told={null} />
      <main>
        <form className="sign-in" onSubmit={(event) => void submit(event)}>
          <ViewHeading>{words.signIn.heading}</ViewHeading>
          <div className="notice" role="alert" hidden={message === null}>
            {message}
          </div>
          <label htmlFor="username">{words.signIn.username}</label>
          <input
            ref={username}
            id="username"
            autoComplete="username"
            autoCapitalize="none"
            spellCheck={false}
          />
          <label htmlFor="password">{words.signIn.password}</label>
          <input ref={password} id="password" type="password" autoComplete="current-password" />
          <button type="submit" className="act" disabled={waiting}>
            {words.signIn.button}
          </button>
          <Provider />
        </form>
        <TokenForm />
      </main>
    </>
  );
}

/** Where else to sign in, if anywhere. */
function Provider() {
  const { words } = useSpeech();
  const ways = useQuery({
    queryKey: ["ways"],
    queryFn: ({ signal }) => answerOf(client.GET("/v1/session", { signal })),
  });
  if (!ways.data?.provider) return null;
  return <a href={ways.data.provider}>{words.signIn.atProvider}</a>;
}

function whyNot(failure: unknown, { words }: Speech): string {
  // Of a sign-in a 401 says that it was turned down.
  if (failure instanceof SignedOut) return words.signIn.wrong;
  if (!(failure instanceof Refused)) return words.failed.noAnswer;
  if (failure.seconds !== null) return words.signIn.wait(String(failure.seconds));
  return words.failed.status(String(failure.status));
}
