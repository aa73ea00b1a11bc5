/**
 * The token the page signs in with. It arrives in the fragment of the address (which is never sent
 * anywhere) or through the form, lives as long as the tab does, and never stays in the address bar.
 */

const KEY = "token";

/** The token in a fragment such as "#token=abc", or null. */
export function tokenInFragment(fragment: string): string | null {
  return new URLSearchParams(fragment.replace(/^#/, "")).get("token")?.trim() || null;
}

/** Moves a token from the address bar to where the tab keeps it; returns the one to use, or null. */
export function currentToken(): string | null {
  const given = tokenInFragment(location.hash);
  if (given !== null) {
    keepToken(given);
    history.replaceState(history.state, "", location.pathname + location.search);
  }
  return sessionStorage.getItem(KEY);
}

export function keepToken(token: string): void {
  sessionStorage.setItem(KEY, token);
}

export function forgetToken(): void {
  sessionStorage.removeItem(KEY);
}
