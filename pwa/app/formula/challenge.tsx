// What a laboratory found of a formula's keeping: each report with its reductions and criteria, and what it speaks for.

import { useState } from 'preact/hooks';
import type { ChallengeTest, ChallengeTyped } from '../../shell/contract-ageing';
import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Fig } from '../parts/figure';
import { Findings } from '../parts/findings';
import { Kept } from '../parts/kept';
import { Go } from '../parts/link';
import { ReportForm } from './report';

/** On formula and batch: one sentence, and the way to the reports. */
export function Tested({ formula, batch }: { formula: string; batch: string }) {
  const answer = useView('challenges', { formula, batch });
  if (!answer?.ok) return null;
  const { says, level } = answer.value;
  return (
    <section data-part="tested" data-level={level}>
      <h2 class="ph">
        <span>tested keeping</span>
        <Go to={`/formulas/${formula}/challenge`} class="go">
          {says ? 'the report' : 'type a report'}
        </Go>
      </h2>
      <p class={says ? undefined : 'faint'}>{says || 'No challenge test of a laboratory is in this book. Arithmetic cannot take its place.'}</p>
    </section>
  );
}

export function ChallengeScreen({ id }: { id: string }) {
  const answer = useView('challenges', { formula: id, batch: '' });
  const [typing, setTyping] = useState<ChallengeTyped>();
  const back = { to: `/formulas/${id}`, text: 'The formula' };
  if (!answer) return <NotThere name="challenge" title="" back={back} />;
  if (!answer.ok) return <NotThere name="challenge" title="Tested keeping" back={back} error={answer.error} />;
  const of = answer.value;
  if (typing) return <ReportForm of={of} start={typing} back={back} close={() => setTyping(undefined)} />;
  return (
    <Screen
      name="challenge"
      look="record"
      back={back}
      title={of.name}
      sub="tested keeping"
      foot={
        <button type="button" class="btn" onClick={() => setTyping(of.blank)}>
          Type a report
        </button>
      }
    >
      {of.tests.length === 0 && (
        <p class="faint">No challenge test is in this book yet. A laboratory puts living microbes into the product and counts them for 28 days. Type its figures here; they are held against ISO 11930 and USP &lt;51&gt;, and stay with the revision that was tested.</p>
      )}
      {of.tests.map((t) => (
        <Report key={t.entry} of={t} again={() => setTyping({ ...t.typed, of: t.entry })} />
      ))}
    </Screen>
  );
}

function Report({ of, again }: { of: ChallengeTest; again: () => void }) {
  return (
    <section class={of.struck ? 'entry struck' : undefined} data-part="report" data-struck={of.struck}>
      <h2 class="ph">
        <span>{of.struck ? <s>{of.title}</s> : of.title}</span>
        <Kept where={of.where} />
      </h2>
      <p class="faint">{of.by}</p>
      {of.reason && (
        <p class="note note-note">
          <i class="word">corrected</i> {of.reason}
        </p>
      )}
      {!of.struck && (
        <>
          {of.since && (
            <p class="note note-care">
              <i class="word">take care</i> {of.since}
            </p>
          )}
          <div class="row report-row compare-head">
            <small>log reduction</small>
            <small>day 7</small>
            <small>14</small>
            <small>28</small>
          </div>
          {of.lines.map((l) => (
            <div key={l.name} class="row report-row">
              <span class="name">
                <i>{l.name}</i>
                <small>{l.kind}</small>
              </span>
              {l.days.map((d, i) => (
                <Fig key={i} of={d} label={`${l.name}, log reduction`} />
              ))}
            </div>
          ))}
          {of.criteria.map((c) => (
            <div key={c.name} class="kv" data-met={c.met}>
              <span>
                {c.name}
                <small>{c.against || c.source}</small>
              </span>
              <b class={c.met === 'not met' ? 'word stop' : undefined}>{c.met}</b>
            </div>
          ))}
          <Findings of={of.findings} />
          <button type="button" class="quiet correct" onClick={again}>
            correct
          </button>
        </>
      )}
    </section>
  );
}
