/**
 * Which number is typed on the pad: the field that was touched last, else the first there is. Keys of a keyboard
 * go there too, wherever the focus is, so that nobody has to find the field first.
 */

import {
  createContext,
  type ReactNode,
  useCallback,
  useContext,
  useEffect,
  useId,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from "react";

/** A digit, the decimal sign ("."), or the last digit taken back. */
export type PadKey = string;
export const RUB_OUT: PadKey = "rub-out";
export const DECIMAL: PadKey = ".";

interface PadState {
  readonly active: string | null;
  readonly fields: readonly string[];
  activate(id: string): void;
  /** Adds a field and says how it takes a key; gives back how to take it away. */
  join(id: string, take: (key: PadKey) => void): () => void;
  press(key: PadKey): void;
}

const Pad = createContext<PadState | null>(null);

export function usePad(): PadState {
  const pad = useContext(Pad);
  if (pad === null) throw new Error("there is no pad here");
  return pad;
}

/** A field of the pad: whether it is typed into, and the id that its input carries. */
export function usePadField(take: (key: PadKey) => void) {
  const id = useId();
  const { active, activate, join } = usePad();
  const latest = useRef(take);
  useLayoutEffect(() => {
    latest.current = take;
  });
  useEffect(() => join(id, (key) => latest.current(key)), [id, join]);
  return { id, active: active === id, activate: useCallback(() => activate(id), [activate, id]) };
}

export function WithPad({ children }: { readonly children: ReactNode }) {
  const [chosen, setChosen] = useState<string | null>(null);
  const [fields, setFields] = useState<readonly string[]>([]);
  const takers = useRef(new Map<string, (key: PadKey) => void>());
  const join = useCallback((id: string, take: (key: PadKey) => void) => {
    takers.current.set(id, take);
    setFields((before) => [...before, id]);
    return () => {
      takers.current.delete(id);
      setFields((before) => before.filter((one) => one !== id));
    };
  }, []);
  const active = chosen !== null && fields.includes(chosen) ? chosen : (fields[0] ?? null);
  const state = useMemo(
    () => ({
      active,
      fields,
      activate: setChosen,
      join,
      press: (key: PadKey) => active !== null && takers.current.get(active)?.(key),
    }),
    [active, fields, join],
  );
  useKeysFor(state.press);
  return <Pad.Provider value={state}>{children}</Pad.Provider>;
}

/** Digits that are typed while no field has the focus go to the pad's field. */
function useKeysFor(press: (key: PadKey) => void): void {
  useEffect(() => {
    const hear = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || isWritten(event.target)) return;
      const key = event.key === "Backspace" ? RUB_OUT : event.key === "," ? DECIMAL : event.key;
      if (!/^(\d|\.|rub-out)$/.test(key)) return;
      event.preventDefault();
      press(key);
    };
    // The focus may be on the sheet itself, which is around everything in it.
    document.addEventListener("keydown", hear);
    return () => document.removeEventListener("keydown", hear);
  }, [press]);
}

/** Whether keys are written where the focus is. */
function isWritten(target: EventTarget | null): boolean {
  if (target instanceof HTMLSelectElement || target instanceof HTMLTextAreaElement) return true;
  return target instanceof HTMLInputElement && target.type === "text";
}
