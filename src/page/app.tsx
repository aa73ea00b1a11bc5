/** Which view there is: signing in, the patients of a unit, one patient's shift, or a
 * sheet of it to print. The address names it. */

import { useQuery, useQueryClient } from "@tanstack/react-query";
import { lazy, Suspense, useEffect } from "react";
import { Patients } from "./patients/patients.js";
import { Patterns } from "./picture/legend.js";
import { ShiftPage } from "./shift/page.js";
import { SignIn } from "./sign-in/sign-in.js";
import { aboutWho } from "./sign-in/who.js";
import { Frame, Top } from "./ui/frame.js";
import { useChoice } from "./ui/going.js";
import { Failed, Loading } from "./ui/states.js";
import { useSpeech } from "./words/language.js";

/** Sheets of paper, and what makes them, are loaded when somebody wants one. */
const PrintPage = lazy(() => import("./print/page.js"));
/** Loaded when somebody first goes there: whoever charts at the bedside need not wait for it. */
const RoundPage = lazy(() => import("./round/page.js"));
const StayPage = lazy(() => import("./round/stay-page.js"));

export function App() {
  const queries = useQueryClient();
  const who = useQuery(aboutWho);
  const signedIn = Boolean(who.data?.me);
  useEffect(() => {
    // Nothing of a patient is kept for who comes next.
    const others = { predicate: ({ queryKey }: { queryKey: readonly unknown[] }) => queryKey[0] !== "who" };
    if (!signedIn) queries.removeQueries(others);
  }, [signedIn, queries]);
  useEffect(() => {
    // Another token in the fragment of the address.
    const again = () => void queries.invalidateQueries();
    addEventListener("hashchange", again);
    return () => removeEventListener("hashchange", again);
  }, [queries]);
  return (
    <Frame>
      <Patterns />
      {who.data === undefined ? <Unknown failure={who.error} again={() => void who.refetch()} /> : null}
      {who.data?.me === null && <SignIn key={who.data.told} told={who.data.told} />}
      {who.data?.me && <View />}
    </Frame>
  );
}

/** While nobody knows yet who is here. */
function Unknown({ failure, again }: { readonly failure: unknown; readonly again: () => void }) {
  const { words } = useSpeech();
  return (
    <>
      <Top unit={null} told={null} />
      <main>
        <h1 className="unseen">{words.title}</h1>
        {failure ? <Failed failure={failure} staleFrom={null} again={again} /> : <Loading />}
      </main>
    </>
  );
}

function View() {
  const choice = useChoice();
  const { encounter, shift, view, asOf, print, paper } = choice;
  if (encounter === null && view === "round") {
    return (
      <Suspense fallback={<Loading />}>
        <RoundPage choice={choice} />
      </Suspense>
    );
  }
  if (encounter === null) return <Patients choice={choice} />;
  if (print !== null) {
    return (
      <Suspense fallback={<Loading />}>
        <PrintPage key={encounter} encounter={encounter} shift={shift} kind={print} paper={paper} />
      </Suspense>
    );
  }
  if (view === null || view === "round") {
    return <ShiftPage key={encounter} encounter={encounter} wanted={shift} asOf={asOf} />;
  }
  return (
    <Suspense fallback={<Loading />}>
      <StayPage key={encounter} encounter={encounter} view={view} choice={choice} />
    </Suspense>
  );
}
