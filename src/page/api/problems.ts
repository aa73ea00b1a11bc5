/**
 * What the API answers instead of an answer, as values that are thrown: that nobody is signed in, a refusal
 * with the problem document it came with, or that nothing answered at all. Sentences for them are in `words`.
 */

/** RFC 9457, as far as every problem of this API has it. */
interface ProblemDocument {
  readonly type?: string;
  readonly title?: string;
  readonly detail?: string;
}

/** Nobody is signed in, or no longer. */
export class SignedOut extends Error {}

/** No answer came: the service is away, or the network is. */
export class NoAnswer extends Error {}

/** The API refused; `problem` is what it said, `seconds` after how many it may be asked again. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly problem: ProblemDocument,
    readonly seconds: number | null,
  ) {
    super(problem.detail ?? problem.title ?? String(status));
  }
}

/** What a call of the generated client comes to. */
interface Called<T> {
  readonly data?: T | undefined;
  readonly error?: unknown;
  readonly response: Response;
}

/** The answer of a call, or the problem thrown. */
export async function answerOf<T>(call: Promise<Called<T>>): Promise<T> {
  const { data, error, response } = await call.catch((cause: unknown) => {
    if (cause instanceof DOMException && cause.name === "AbortError") throw cause;
    throw new NoAnswer("no answer", { cause });
  });
  if (response.status === 401) throw new SignedOut();
  if (!response.ok) throw refusalOf(response, error);
  return data as T;
}

/** The problem of an answer that is none. */
export function refusalOf(response: Response, error: unknown): Refused {
  const seconds = Number(response.headers.get("retry-after"));
  const problem = typeof error === "object" && error !== null ? error : {};
  return new Refused(response.status, problem, seconds > 0 ? seconds : null);
}
