// A few words to choose one from, each a target of its own: quicker under a knuckle than a drop-down list.

import { useId } from 'preact/hooks';

interface ChoiceProps {
  label: string;
  options: readonly (string | { value: string; text: string })[];
  value: string;
  set: (value: string) => void;
  quiet?: boolean;
}

export function Choice({ label, options, value, set, quiet }: ChoiceProps) {
  const id = useId();
  return (
    <fieldset class="choice">
      <legend class={quiet ? 'unseen' : undefined}>{label}</legend>
      <div class="options">
        {options.map((option) => {
          const o = typeof option === 'string' ? { value: option, text: option } : option;
          return (
            <label key={o.value} class={o.value === value ? 'option chosen' : 'option'}>
              <input type="radio" name={id} value={o.value} checked={o.value === value} onChange={() => set(o.value)} />
              {o.text}
            </label>
          );
        })}
      </div>
    </fieldset>
  );
}
