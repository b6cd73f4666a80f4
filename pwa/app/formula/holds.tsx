// How it holds together: what holds the oil and by which figures, how dry its water is, the pH of a simple solution. Only what this formula has.

import { useState } from 'preact/hooks';
import type { Draft } from '../../shell/contract';
import type { Holding } from '../../shell/contract-reckon';
import { Fig } from '../parts/figure';
import { Findings } from '../parts/findings';
import { useAsked } from './sheet';

function Shown({ of }: { of: Holding }) {
  const empty = !of.says && of.figures.length + of.not.length + of.notes.length === 0;
  return (
    <>
      {of.says && <p class="ruler-says">{of.says}</p>}
      {empty && <p class="faint">Nothing here asks for it: no oil beside water, little dissolved, no acid or salt of one.</p>}
      {of.figures.map((f) => (
        <div key={f.what} class="kv">
          <span>
            {f.what}
            <small>{f.source}</small>
          </span>
          <Fig of={f.figure} label={f.what} />
        </div>
      ))}
      {of.parts.map((p) => (
        <div key={p.line + p.name} class="kv" data-role={p.role}>
          <span>
            {p.name}
            <small>{p.role === 'oil' ? 'oily' : p.role}</small>
            {p.hlb.map((h) => (
              <small key={h.text + h.source}>
                {p.role === 'oil' ? 'asks for' : 'has'} HLB <b class="num">{h.text}</b>, {h.source}
              </small>
            ))}
          </span>
          <span class="num">{p.percent} %</span>
        </div>
      ))}
      {of.marks.length > 0 && (
        <details class="how">
          <summary>marks of a low-risk product</summary>
          {of.marks.map((m) => (
            <div key={m.says} class="kv">
              <span>
                {m.says}
                <small class="num">{m.figure}</small>
              </span>
              <span>{m.met}</span>
            </div>
          ))}
        </details>
      )}
      {of.not.map((n) => (
        <p key={n} class="faint">
          Not worked out: {n}.
        </p>
      ))}
      <Findings of={of.notes} />
    </>
  );
}

export function Holds({ draft }: { draft: Draft }) {
  const [open, setOpen] = useState(false);
  const answer = useAsked('holding', open ? { draft } : undefined);
  return (
    <details data-part="holds" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>How it holds together</summary>
      {answer?.ok && <Shown of={answer.value} />}
    </details>
  );
}
