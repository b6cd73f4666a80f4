// How screens hear from the book: a live view by name, and things half typed that outlive a reload.

import { useEffect, useRef, useState } from 'preact/hooks';
import { draft, keepDraft, view } from '../shell/client';
import type { Refusal, Result, Views } from '../shell/contract';

/** The live answer of a view; undefined until the first one is there. The component draws again when the book changes. */
export function useView<N extends keyof Views>(name: N, args: Views[N]['args']): Result<Views[N]['value']> | undefined {
  return view(name, args).value;
}

export interface Kept<T> {
  /** undefined when nothing is half typed */
  value: T | undefined;
  /** false until this phone was asked what it had kept */
  known: boolean;
  set(value: T): void;
  /** Changes what is there by now, also when two fields change before the screen is drawn again. */
  edit(change: (now: T | undefined) => T): void;
  clear(): void;
}

/** Something half typed under a name. It is handed to the worker at every change, so a reload loses nothing. */
export function useKept<T>(name: string): Kept<T> {
  const [state, setState] = useState<{ name: string; known: boolean; value: T | undefined }>({ name, known: false, value: undefined });
  const touched = useRef('');
  const latest = useRef<T | undefined>(undefined);
  useEffect(() => {
    let here = true;
    touched.current = '';
    latest.current = undefined;
    void draft<T>(name).then((value) => {
      // What was typed while the phone was being asked is newer than what it had kept.
      if (!here || touched.current === name) return;
      latest.current = value;
      setState({ name, known: true, value });
    });
    return () => {
      here = false;
    };
  }, [name]);
  const now = state.name === name ? state : { name, known: false, value: undefined };
  const put = (value: T | undefined) => {
    touched.current = name;
    latest.current = value;
    setState({ name, known: true, value });
    void keepDraft(name, value);
  };
  return { value: now.value, known: now.known, set: put, edit: (change) => put(change(latest.current)), clear: () => put(undefined) };
}

/** The part of a refusal that belongs beside one field, '' when it is about something else. */
export function besides(error: Refusal | undefined, field: string): Refusal | undefined {
  return error && error.field === field ? error : undefined;
}

/** A refusal that no field of the form claims, to be shown at its foot. */
export function elsewhere(error: Refusal | undefined, fields: readonly string[]): Refusal | undefined {
  return error && !fields.includes(error.field) ? error : undefined;
}
