// A class: a page for who teaches, and one for each learner with blanks to write in.

import type { Class } from '../../shell/contract-share';
import { besides, elsewhere, useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';
import { Code, Notes, PrintFoot } from './card';

interface Typed {
  learners: string;
  mass: string;
  spare: string;
}

const usual: Typed = { learners: '9', mass: '150', spare: '10' };
/** more than this is printed as copies of one page */
const mostPages = 60;

export function ClassScreen({ id, revision }: { id: string; revision: string }) {
  const back = { to: `/formulas/${id}/share`, text: 'Share' };
  const kept = useKept<Typed>(`class:${id}`);
  const typed = kept.value ?? usual;
  const why = useKept<string>(`words:${id}`);
  const answer = useView('class', { key: id, revision, step: '', ...typed });
  if (!answer || !kept.known) return <NotThere name="class" title="Class sheet" back={back} />;
  const error = answer.ok ? undefined : answer.error;
  const field = (name: keyof Typed, label: string, unit: string) => (
    <Field label={label} name={name} mode="decimal" unit={unit} value={typed[name]} set={(text) => kept.edit((now) => ({ ...(now ?? usual), [name]: text }))} error={besides(error, name)} />
  );
  return (
    <Screen name="class" look="paper-page" title={answer.ok ? `A class: ${answer.value.name}` : 'Class sheet'} sub={answer.ok && answer.value.credit ? `by ${answer.value.credit}` : ''} back={back} {...(answer.ok ? { foot: <PrintFoot of={answer.value.findings} why={why} /> } : {})}>
      <div class="trio off-paper">
        {field('learners', 'Learners', '')}
        {field('mass', 'Each makes', 'g')}
        {field('spare', 'Spare', '%')}
      </div>
      <Trouble error={elsewhere(error, ['learners', 'mass', 'spare'])} />
      {answer.ok && <Sheets of={answer.value} />}
      {why.value && <p class="caution">Words that were questioned stand here because: {why.value}</p>}
    </Screen>
  );
}

function Sheets({ of }: { of: Class }) {
  const pages = Array.from({ length: of.learners > mostPages ? 1 : of.learners }, (_, n) => n);
  return (
    <div class="sheet-paper">
      <p class="lead" data-part="all">
        {of.learners} learners, {of.each} each; {of.all} in all with spare.
        {of.learners > mostPages && ' One page is shown: print as many copies as there are learners.'}
      </p>
      {of.leftOut.map((says) => (
        <p class="note note-note off-paper" key={says}>
          <i class="word">note</i> {says}.
        </p>
      ))}
      <p class="note note-wear" data-part="ask">
        <i class="word">ask</i> {of.ask}
      </p>
      {of.contains.length > 0 && (
        <section class="on-paper">
          <h2>Someone may be allergic to</h2>
          <p>{of.contains.join('; ')}.</p>
        </section>
      )}
      <Notes title="Wear, before the tubs are opened" of={of.wear} />
      <section class="on-paper" data-part="shopping">
        <h2>To buy</h2>
        {of.shopping.map((s) => (
          <div class="paper-line" key={s.name}>
            <span>
              {s.name}
              <small>{s.sum}</small>
            </span>
            <b class="num">{s.buy}</b>
          </div>
        ))}
      </section>
      <Notes title="Do not make it like this" of={of.findings} />
      <section class="on-paper">
        <h2>
          Not checked <small class="num">{of.unchecked.length}</small>
        </h2>
        {of.unchecked.map((says) => (
          <p key={says}>{says}</p>
        ))}
      </section>
      <p class="caution">{of.foot}</p>
      {pages.map((n) => (
        <Learner key={n} of={of} first={n === 0} />
      ))}
    </div>
  );
}

function Learner({ of, first }: { of: Class; first: boolean }) {
  return (
    <article class={first ? 'learner' : 'learner on-paper-only'} data-part="learner">
      <h2>{of.name}</h2>
      <Blank label="Name" />
      <Blank label="Date" />
      {of.wear.map((f) => (
        <p class="small" key={f.says + f.do}>
          <b>Wear {f.says}.</b> {f.do}
        </p>
      ))}
      {of.phases.map((p) => (
        <section key={p.letter}>
          <h3>
            {p.letter} <small>{p.treatment}</small>
          </h3>
          {p.lines.map((l, n) => (
            <div class="paper-line" key={n}>
              <span>
                {l.name}
                {l.why && <em>{l.why}</em>}
              </span>
              <b class="num">{l.grams}</b>
              <span class="blank" aria-label="what I weighed" />
            </div>
          ))}
        </section>
      ))}
      {['Temperatures', 'pH, and how it was measured', 'What I saw', 'What I would change'].map((label) => (
        <Blank key={label} label={label} />
      ))}
      <Code of={of.code} />
      <p class="small">
        {of.cautions.join(' ')} {of.contains.length > 0 && `Holds: ${of.contains.join('; ')}.`} Checked: {of.counts}. {of.foot}
      </p>
    </article>
  );
}

function Blank({ label }: { label: string }) {
  return (
    <div class="paper-line">
      <span>{label}</span>
      <span class="blank long" />
    </div>
  );
}
