// The bench's own number pad: keys of 72 px with 16 px between, for a knuckle or a wet glove. A keyboard works as well.

import { useEffect } from 'preact/hooks';

const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', 'back'] as const;
/** More digits than any scale shows. */
const LONGEST = 9;

function pressed(text: string, key: string): string {
  if (key === 'back') return text.slice(0, -1);
  if (text.length >= LONGEST) return text;
  if (key === '.') return text.includes('.') ? text : (text || '0') + '.';
  return text + key;
}

interface PadProps {
  text: string;
  set: (text: string) => void;
  /** Enter on a keyboard */
  enter: () => void;
  /** false for whole things, such as jars */
  point?: boolean;
}

export function Pad({ text, set, enter, point = true }: PadProps) {
  useEffect(() => {
    const onKey = (e: KeyboardEvent) => {
      const at = e.target;
      if (e.ctrlKey || e.metaKey || e.altKey) return;
      if (at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement || at instanceof HTMLSelectElement) return;
      if (/^[0-9]$/.test(e.key)) set(pressed(text, e.key));
      else if ((e.key === '.' || e.key === ',') && point) set(pressed(text, '.'));
      else if (e.key === 'Backspace') set(pressed(text, 'back'));
      else if (e.key === 'Enter' && text && !(at instanceof HTMLButtonElement)) enter();
      else return;
      e.preventDefault();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [text, set, enter, point]);
  return (
    <div class="pad" role="group" aria-label="Number pad">
      {keys.map((key) =>
        key === '.' && !point ? (
          <span key={key} />
        ) : (
          <button key={key} type="button" class={key === 'back' ? 'key key-word' : 'key'} data-key={key} aria-label={key === '.' ? 'point' : key} onClick={() => set(pressed(text, key))}>
            {key}
          </button>
        ),
      )}
    </div>
  );
}
