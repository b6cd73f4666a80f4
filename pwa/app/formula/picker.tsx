// Choosing an ingredient by typing its name. Formulas of this book stand in the same list: they can be a base.

import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { ask } from '../../shell/client';
import type { IngredientRow } from '../../shell/contract';
import { useView } from '../book';
import { go } from '../route';
import type { Chosen } from './change';
import { askedFrom, takeMade } from './made';

interface Option extends Chosen {
  name: string;
  small: string;
}

/** How long after the finger is up its click may still be on its way, in ms. */
const CLICK = 80;

/** What the book found for what was typed. */
interface Found {
  q: string;
  rows: IngredientRow[];
}

interface PickerProps {
  label: string;
  /** formulas may be chosen as bases; false where only an ingredient makes sense */
  bases: boolean;
  /** key of the formula being written, which cannot be its own base */
  self?: string;
  autofocus?: boolean;
  pick: (chosen: Chosen, name: string) => void;
  leave?: () => void;
}

function asOption(row: IngredientRow): Option {
  const stock = row.onHand ? `, ${row.onHand} on the shelf` : '';
  const small = row.inci && row.inci !== row.name ? row.inci : row.about;
  return { ingredient: row.key, base: '', name: row.name, small: small + stock };
}

export function Picker({ label, bases, self, autofocus, pick, leave }: PickerProps) {
  const id = useId();
  const [q, setQ] = useState('');
  const [open, setOpen] = useState(autofocus === true);
  const [at, setAt] = useState(0);
  const [found, setFound] = useState<Found>({ q: '', rows: [] });
  const touch = useRef<{ down: boolean; late: Found | undefined }>({ down: false, late: undefined });
  const input = useRef<HTMLInputElement>(null);
  const list = useRef<HTMLUListElement>(null);
  const formulas = useView('formulas', {});

  useEffect(() => {
    if (autofocus) input.current?.focus();
  }, [autofocus]);
  useEffect(() => {
    const made = takeMade(label);
    if (made) pick(made.chosen, made.name);
  }, []);
  const add = () => {
    askedFrom(label);
    go(`/ingredients/new?${new URLSearchParams({ name: q.trim(), back: location.pathname + location.search })}`);
  };
  useEffect(() => {
    if (!open) return;
    let here = true;
    void ask('ingredients', { q }).then((answer) => {
      if (!here || !answer.ok) return;
      const now = { q, rows: answer.value };
      if (touch.current.down) touch.current.late = now;
      else setFound(now);
    });
    return () => {
      here = false;
    };
  }, [q, open]);

  const typed = q.trim().toLowerCase();
  const asBases: Option[] =
    bases && formulas?.ok
      ? formulas.value
          .filter((f) => f.key !== self && f.name.toLowerCase().includes(typed))
          .map((f) => ({ ingredient: '', base: f.key, name: f.name, small: `your formula, revision ${f.number}, as a base` }))
      : [];
  const options = [...found.rows.map(asOption), ...asBases];
  // What is not in the list stands at its end, reached by the same arrows.
  const last = typed ? options.length : options.length - 1;
  useEffect(() => {
    if (open) list.current?.querySelector('[aria-selected=true]')?.scrollIntoView({ block: 'nearest' });
  }, [at]);

  // A list that changes under the finger gives the tap to another row, or to none: it waits until the finger is up, and
  // until the click that comes after that has reached its row.
  const press = () => {
    touch.current.down = true;
    const lift = () => {
      removeEventListener('pointerup', lift);
      removeEventListener('pointercancel', lift);
      setTimeout(() => {
        const { late } = touch.current;
        touch.current = { down: false, late: undefined };
        if (late) setFound(late);
      }, CLICK);
    };
    addEventListener('pointerup', lift);
    addEventListener('pointercancel', lift);
  };

  const choose = (option: Option | undefined) => {
    if (!option) return;
    setQ('');
    setAt(0);
    setOpen(false);
    pick({ ingredient: option.ingredient, base: option.base }, option.name);
  };
  const onKey = (e: KeyboardEvent) => {
    if (e.key === 'ArrowDown') setAt(Math.min(at + 1, last));
    else if (e.key === 'ArrowUp') setAt(Math.max(at - 1, 0));
    else if (e.key === 'Enter') {
      if (options[at]) choose(options[at]);
      else if (typed) add();
    }
    else if (e.key === 'Escape') {
      setOpen(false);
      leave?.();
    } else return;
    e.preventDefault();
  };

  return (
    <div
      class="picker"
      onFocusOut={(e) => {
        const to = e.relatedTarget;
        if (!(to instanceof Node && e.currentTarget.contains(to))) setOpen(false);
      }}
    >
      <input
        ref={input}
        type="text"
        role="combobox"
        autocomplete="off"
        autocapitalize="none"
        spellcheck={false}
        aria-label={label}
        aria-expanded={open}
        aria-controls={`${id}list`}
        aria-activedescendant={open && at <= last ? `${id}o${at}` : undefined}
        placeholder={label}
        value={q}
        onFocus={(e) => {
          setOpen(true);
          // On a phone the keyboard takes the lower half: the list needs the upper one.
          if (innerWidth < 900) e.currentTarget.scrollIntoView({ block: 'start' });
        }}
        onInput={(e) => {
          setQ(e.currentTarget.value);
          setAt(0);
          setOpen(true);
        }}
        onKeyDown={onKey}
      />
      {open && (
        <ul ref={list} tabIndex={-1} role="listbox" id={`${id}list`} class="options-list" aria-label={label} aria-busy={found.q !== q} onPointerDown={press}>
          {options.map((o, i) => (
            // mousedown would take the focus from the field and close the list before the click arrives
            <li
              key={o.ingredient + o.base}
              role="option"
              id={`${id}o${i}`}
              aria-selected={i === at}
              data-key={o.ingredient || o.base}
              onMouseDown={(e) => e.preventDefault()}
              onClick={() => choose(o)}
            >
              <b>{o.name}</b>
              <small>{o.small}</small>
            </li>
          ))}
          {typed && (
            <li role="option" id={`${id}o${options.length}`} aria-selected={at === options.length} data-part="add-own" onMouseDown={(e) => e.preventDefault()} onClick={add}>
              <b>Not in the list: add it</b>
              <small>“{q.trim()}” as an ingredient of your own</small>
            </li>
          )}
        </ul>
      )}
    </div>
  );
}
