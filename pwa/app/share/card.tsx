// The formula card: what stands on it is drawn here and printed by the phone itself, so that it needs no network.

import type { Card, PageCode } from '../../shell/contract-share';
import type { Finding } from '../../shell/contract';
import { useKept, useView, type Kept } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Field } from '../parts/field';
import { Note } from '../parts/note';

/** Questioned words are printed for a reason only, and the reason stands on the paper. */
export function PrintFoot({ of, why }: { of: readonly Finding[]; why: Kept<string> }) {
  const stops = of.filter((f) => f.rule === 'words' && f.level === 'stop');
  return (
    <>
      {stops.map((f) => (
        <p key={f.line + f.says} class="because">
          <i class="word stop">stop</i> {f.says}
        </p>
      ))}
      {stops.length > 0 && <Field label="Why it may be printed all the same" name="words-reason" value={why.value ?? ''} set={why.set} />}
      <button type="button" class="btn" disabled={stops.length > 0 && !why.value?.trim()} onClick={() => print()}>
        Print
      </button>
    </>
  );
}

export function CardScreen({ id, revision }: { id: string; revision: string }) {
  const back = { to: `/formulas/${id}/share`, text: 'Share' };
  const answer = useView('card', { key: id, revision });
  const why = useKept<string>(`words:${id}`);
  if (!answer) return <NotThere name="card" title="Formula card" back={back} />;
  if (!answer.ok) return <NotThere name="card" title="Formula card" back={back} error={answer.error} />;
  return (
    <Screen name="card" look="paper-page" title={answer.value.name} sub={head(answer.value)} back={back} foot={<PrintFoot of={answer.value.findings} why={why} />}>
      <Paper of={answer.value} />
      {why.value && <p class="caution">Words that were questioned stand here because: {why.value}</p>}
    </Screen>
  );
}

function head(of: Card): string {
  return [`revision ${of.number}`, of.kind, of.keeps, of.credit && `by ${of.credit}`, of.from].filter(Boolean).join(' · ');
}

function Paper({ of }: { of: Card }) {
  return (
    <div class="sheet-paper">
      <Notes title="Wear, before the step" of={of.wear} />
      {of.phases.map((p) => (
        <section key={p.letter} class="on-paper">
          <h2>
            {p.letter} <small>{p.treatment}</small>
          </h2>
          {p.lines.map((l, n) => (
            <div class="paper-line" key={n}>
              <span>
                {l.name}
                {l.inci && <small>{l.inci}</small>}
                {l.why && <em>{l.why}</em>}
              </span>
              <b class="num">{l.percent}</b>
            </div>
          ))}
        </section>
      ))}
      <div class="paper-line total">
        <span>together</span>
        <b class="num">{of.total}</b>
      </div>
      {of.ingredients && (
        <section class="on-paper">
          <h2>Ingredient list, as planned</h2>
          <p>{of.ingredients}</p>
        </section>
      )}
      {of.cautions.length > 0 && (
        <section class="on-paper">
          <h2>Cautions</h2>
          <p>{of.cautions.join(' ')}</p>
        </section>
      )}
      <section class="on-paper" data-part="counts">
        <h2>
          Checked <small>{of.counts}</small>
        </h2>
        {of.findings.map((f, n) => (
          <Note key={n} of={f} paper />
        ))}
      </section>
      <Notes title="Not checked" of={of.unchecked} />
      {of.sources.length > 0 && (
        <section class="on-paper small">
          <h2>Sources</h2>
          <p>{of.sources.join('; ')}.</p>
        </section>
      )}
      <Code of={of.code} />
      <p class="caution">{of.foot}</p>
    </div>
  );
}

/** The formula as a code: any phone reads it as text, and Scan opens it as a notebook page. */
export function Code({ of }: { of: PageCode }) {
  if (!of.path) return null;
  const side = `${of.mm}mm`;
  return (
    <section class="on-paper page-code" data-part="code">
      <svg width={side} height={side} viewBox={`0 0 ${of.side} ${of.side}`} role="img" aria-label="The formula as a code to scan">
        <path d={of.path} />
      </svg>
      <p>Stillroom’s Scan opens this as a notebook page; any phone’s camera shows it as text. No cost, lot or supplier stands in it.</p>
    </section>
  );
}

export function Notes({ title, of }: { title: string; of: readonly Finding[] }) {
  if (of.length === 0) return null;
  return (
    <section class="on-paper">
      <h2>
        {title} <small class="num">{of.length}</small>
      </h2>
      {of.map((f, n) => (
        <Note key={n} of={f} paper />
      ))}
    </section>
  );
}
