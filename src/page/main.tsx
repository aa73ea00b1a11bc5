/** The page begins here: a client of the public API like any other, in the language of who looks at it. */

import { MutationCache, QueryCache, QueryClient, QueryClientProvider } from "@tanstack/react-query";
import { createRoot } from "react-dom/client";
import { noticePeople } from "./api/presence.js";
import { SignedOut } from "./api/problems.js";
import { App } from "./app.js";
import { signedOut } from "./sign-in/who.js";
import { SpeakingLanguage } from "./words/language.js";

const onError = (failure: unknown) => {
  if (failure instanceof SignedOut) signedOut(queries);
};

const queries: QueryClient = new QueryClient({
  queryCache: new QueryCache({ onError }),
  mutationCache: new MutationCache({ onError }),
  // A failure is told at once, with a way to try again; whether there is a network the answers say.
  defaultOptions: { queries: { retry: false, networkMode: "always" } },
});

noticePeople();
createRoot(document.getElementById("page")!).render(
  <SpeakingLanguage>
    <QueryClientProvider client={queries}>
      <App />
    </QueryClientProvider>
  </SpeakingLanguage>,
);
