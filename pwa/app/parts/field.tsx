// A line to write on. Always type=text: a number field swallows "1,5".

import { useId } from 'preact/hooks';
import type { Refusal } from '../../shell/contract';
import { Trouble } from './trouble';

interface FieldProps {
  label: string;
  name: string;
  value: string;
  set: (text: string) => void;
  mode?: 'decimal' | 'numeric' | 'text';
  unit?: string;
  hint?: string;
  error?: Refusal | undefined;
  long?: boolean;
  caps?: boolean;
}

export function Field(p: FieldProps) {
  const id = useId();
  const described = [p.hint ? `${id}h` : '', p.error ? `${id}e` : ''].filter(Boolean).join(' ');
  const shared = {
    id,
    name: p.name,
    value: p.value,
    autocomplete: 'off',
    'aria-describedby': described || undefined,
    'aria-invalid': p.error ? true : undefined,
  } as const;
  return (
    <div class={p.error ? 'field wrong' : 'field'}>
      <label for={id}>{p.label}</label>
      <div class="write">
        {p.long ? (
          <textarea {...shared} rows={2} onInput={(e) => p.set(e.currentTarget.value)} />
        ) : (
          <input
            {...shared}
            type="text"
            inputMode={p.mode ?? 'text'}
            autocapitalize={p.caps ? 'characters' : undefined}
            class={p.mode && p.mode !== 'text' ? 'num' : undefined}
            onInput={(e) => p.set(e.currentTarget.value)}
          />
        )}
        {p.unit && <span class="unit">{p.unit}</span>}
      </div>
      {p.hint && (
        <p class="hint" id={`${id}h`}>
          {p.hint}
        </p>
      )}
      <Trouble error={p.error} id={`${id}e`} />
    </div>
  );
}
