// What it is filled into: chosen from the containers of the book, or written down as a new one.

import { useState } from 'preact/hooks';
import { useView } from '../book';
import { NewContainer } from './define';

export function ContainerChooser({ value, set }: { value: string; set: (key: string) => void }) {
  const answer = useView('containers', {});
  const [writing, setWriting] = useState(false);
  const rows = answer?.ok ? answer.value : [];
  const now = rows.find((c) => c.key === value);
  return (
    <details data-part="containers">
      <summary>
        filled into <b>{now?.name ?? 'not said'}</b>
      </summary>
      <div class="options" role="radiogroup" aria-label="Filled into">
        {[{ key: '', name: 'not said', brimful: '' }, ...rows].map((c) => (
          <label key={c.key} class={c.key === value ? 'option chosen' : 'option'}>
            <input type="radio" name="container" value={c.key} checked={c.key === value} onChange={() => set(c.key)} />
            {c.name}
            {c.brimful && !c.name.includes(c.brimful) && <small class="num">{c.brimful}</small>}
          </label>
        ))}
        <button type="button" class="quiet" aria-expanded={writing} onClick={() => setWriting(!writing)}>
          Another container
        </button>
      </div>
      {writing && (
        <NewContainer
          made={(key) => {
            setWriting(false);
            set(key);
          }}
        />
      )}
    </details>
  );
}
