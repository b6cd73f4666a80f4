// Aiming: what the figures of the whole shall be, which lines may change for it, and the nearest formula beside the present one.

import { useState } from 'preact/hooks';
import type { Draft } from '../../shell/contract';
import type { Aim, AimTarget, Wanted } from '../../shell/contract-reckon';
import { besides, elsewhere } from '../book';
import { Field } from '../parts/field';
import { Fig } from '../parts/figure';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';
import { offerUndo } from '../parts/undo';
import { ComeAndGone, FiguresBeside, LinesBeside } from './beside';
import { takeLines, type Edit } from './change';
import { useAsked } from './sheet';

type Wants = Record<string, { low: string; high: string }>;

const blank = { low: '', high: '' };

function asTargets(wants: Wants, lines: ReadonlySet<string>): Wanted[] {
  return Object.entries(wants).map(([key, w]) => (lines.has(key) ? { what: 'line', line: key, ...w } : { what: key, line: '', ...w }));
}

function Met({ of }: { of: AimTarget }) {
  return (
    <div class="kv" data-met={of.met}>
      <span>
        {of.says}
        {of.missed && (
          <small class="missed">
            <i class="word">take care</i> {of.missed}
          </small>
        )}
      </span>
      <span class="num">
        <s>
          <Fig of={{ text: of.before, sum: of.beforeSum }} label={`${of.says}, before`} />
        </s>{' '}
        <b>
          <Fig of={{ text: of.after, sum: of.afterSum }} label={`${of.says}, after`} />
        </b>
      </span>
    </div>
  );
}

function Nearest({ of, take }: { of: Aim; take: () => void }) {
  return (
    <section class="beside" aria-label="The nearest formula">
      <h3>{of.met ? 'The nearest formula meets it' : 'The nearest formula, which does not meet all of it'}</h3>
      {of.targets.map((t) => (
        <Met key={t.says} of={t} />
      ))}
      <LinesBeside of={of.beside} />
      <FiguresBeside of={of.figures} />
      <ComeAndGone come={of.come} gone={of.gone} />
      {of.notes.map((f) => (
        <Note key={f.rule + f.line + f.says} of={f} />
      ))}
      <button type="button" class="btn" onClick={take}>
        Take it
      </button>
    </section>
  );
}

function Aiming({ draft, edit, done }: { draft: Draft; edit: Edit; done: () => void }) {
  const [wants, setWants] = useState<Wants>({});
  const [fixed, setFixed] = useState<string[] | null>(null);
  const [shelf, setShelf] = useState(false);
  const ids = new Set(draft.lines.map((l) => l.id));
  const answer = useAsked('aim', { draft, targets: asTargets(wants, ids), fixed, shelf });
  // While a figure is being written what was there stays, with the trouble beside the field.
  const [last, setLast] = useState<Aim>();
  if (answer?.ok && answer.value !== last) setLast(answer.value);
  const aim = answer?.ok ? answer.value : last;
  const error = answer && !answer.ok ? answer.error : undefined;
  const want = (key: string, change: Partial<typeof blank>) => setWants((now) => ({ ...now, [key]: { ...(now[key] ?? blank), ...change } }));
  const pair = (key: string, field: string, unit: string) => (
    <div class="pair">
      <Field label="from" name={`${key}-low`} mode="decimal" unit={unit} value={wants[key]?.low ?? ''} set={(low) => want(key, { low })} error={besides(error, `${field}-low`)} />
      <Field label="to at most" name={`${key}-high`} mode="decimal" unit={unit} value={wants[key]?.high ?? ''} set={(high) => want(key, { high })} error={besides(error, `${field}-high`)} />
    </div>
  );
  const fields = [...(aim?.offers.map((o) => o.what) ?? []), ...[...ids].map((id) => `line${id}`)].flatMap((f) => [`${f}-low`, `${f}-high`]);
  const take = () => {
    if (!aim) return;
    const before = draft.lines;
    edit((now) => takeLines(now, aim.take));
    offerUndo('The nearest formula stands in the lines.', () => edit((now) => takeLines(now, before)));
    done();
  };
  return (
    <>
      {aim?.offers.map((o) => (
        <fieldset class="aim-offer" key={o.what}>
          <legend>
            {o.name} <small>now <Fig of={{ text: o.unit ? `${o.now} ${o.unit}` : o.now, sum: o.sum }} label={o.name} /></small>
          </legend>
          {pair(o.what, o.what, o.unit)}
        </fieldset>
      ))}
      {aim && <p class="faint">{aim.cost}</p>}
      {aim && (
        <details data-part="aim-lines">
          <summary>Lines that stay, and bounds</summary>
          {aim.lines.map((l) => (
            <fieldset class="aim-offer" key={l.line}>
              <legend>
                {l.name} <small>now {l.percent}</small>
              </legend>
              <label class="tick">
                <input
                  type="checkbox"
                  checked={l.stays}
                  onChange={() => setFixed(aim.lines.filter((x) => (x.line === l.line ? !x.stays : x.stays)).map((x) => x.line))}
                />
                stays as it is
              </label>
              {!l.stays && pair(l.line, `line${l.line}`, '%')}
            </fieldset>
          ))}
        </details>
      )}
      <label class="tick">
        <input type="checkbox" checked={shelf} onChange={(e) => setShelf(e.currentTarget.checked)} />
        at most what is on the shelf
      </label>
      {shelf && aim && <p class="faint">{aim.shelf}</p>}
      <Trouble error={elsewhere(error, fields)} />
      {aim?.asked && !error && <Nearest of={aim} take={take} />}
    </>
  );
}

export function AimAt({ draft, edit }: { draft: Draft; edit: Edit }) {
  const [open, setOpen] = useState(false);
  return (
    <details data-part="aim" open={open} onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>Aim at figures</summary>
      {open && <Aiming draft={draft} edit={edit} done={() => setOpen(false)} />}
    </details>
  );
}
