// The list of ingredients and the cautions as they will be printed: EU or UK and US beside each other, one above the other on a phone, with
// what differs marked in place and told below.

import { useState } from 'preact/hooks';
import type { Views } from '../../shell/contract';
import type { Printed, PrintedSide, PrintedText } from '../../shell/contract-law';
import { NotChecked } from '../parts/findings';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';
import { useAsked } from '../formula/sheet';

const turns: Record<string, string> = { 'any order': 'from here in any order', colour: 'colours' };

function Names({ of }: { of: PrintedSide }) {
  return (
    <p class="as-printed" data-part="list">
      Ingredients:{' '}
      {of.entries.map((e, n) => (
        <>
          {n > 0 && ', '}
          {e.where !== of.entries[n - 1]?.where && turns[e.where] && (
            <>
              <small class="turn">{turns[e.where]} ›</small>{' '}
            </>
          )}
          {e.differs ? <u>{e.print}</u> : e.print}
        </>
      ))}
    </p>
  );
}

function Why({ of }: { of: PrintedText }) {
  return (
    <li>
      {of.says}
      <small>{[of.why, of.source, of.date].filter(Boolean).join(' · ')}</small>
    </li>
  );
}

function Side({ of }: { of: PrintedSide }) {
  return (
    <section class="side" data-side={of.region}>
      <h3>{of.title}</h3>
      <Names of={of} />
      <p class="as-printed" data-part="cautions">
        {of.cautions.map((c, n) => (
          <>
            {n > 0 && ' '}
            {c.differs ? <u>{c.says}</u> : c.says}
          </>
        ))}
      </p>
      {of.also && <p class="remark">{of.also}</p>}
      <p class="remark">{of.memory}</p>
      <details>
        <summary>Why it stands so</summary>
        <p class="src">{of.source}.</p>
        <ul class="whys">
          {of.cautions.map((c) => (
            <Why key={c.says} of={c} />
          ))}
        </ul>
      </details>
    </section>
  );
}

function Both({ of }: { of: Printed }) {
  return (
    <>
      <p class="faint">
        {of.from}. What is <u>underlined</u> differs.
      </p>
      <div class="sides">
        {of.sides.map((s) => (
          <Side key={s.region} of={s} />
        ))}
      </div>
      {of.differ.length > 0 && (
        <section data-part="differ">
          <h3>
            Where they differ <span class="num">{of.differ.length}</span>
          </h3>
          {of.differ.map((d) => (
            <div class="kv" key={d.first}>
              <span>
                {d.first} <b>→</b> {d.second}
                <small>{d.why}</small>
              </span>
            </div>
          ))}
        </section>
      )}
      {of.leftOut.length > 0 && <p class="remark">Not listed, as residues that their suppliers do not list: {of.leftOut.join(', ')}.</p>}
      {of.findings.filter((f) => f.level !== 'unchecked').map((f) => (
        <Note key={f.says} of={f} />
      ))}
      <NotChecked of={[...of.findings, ...of.unchecked]} />
    </>
  );
}

export function AsPrinted({ args }: { args: Views['printed']['args'] }) {
  const [open, setOpen] = useState(false);
  const answer = useAsked('printed', open ? args : undefined);
  return (
    <details data-part="printed" onToggle={(e) => e.target === e.currentTarget && setOpen(e.currentTarget.open)}>
      <summary>As it will be printed: EU, UK and US</summary>
      {answer?.ok && <Both of={answer.value} />}
      <Trouble error={answer && !answer.ok ? answer.error : undefined} />
    </details>
  );
}
