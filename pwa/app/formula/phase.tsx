// A phase of the ledger: its letter, how it is treated, its lines, and the empty line at its end.

import { useState } from 'preact/hooks';
import type { Draft, DraftPhase, Sheet } from '../../shell/contract';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Fig } from '../parts/figure';
import { offerUndo } from '../parts/undo';
import { doings, treatmentWords } from '../words';
import { addLine, putBackPhase, removePhase, setLine, setPhase, setPot, type Edit } from './change';
import { Line } from './line';
import { LineDetail } from './linedetail';
import { MarginNotes } from './marginnotes';
import { Picker } from './picker';
import type { Margin } from './placing';

interface PhaseProps {
  draft: Draft;
  phase: DraftPhase;
  sheet: Sheet | undefined;
  margin: Margin;
  /** a revision that is only looked at */
  fixed: boolean;
  edit: Edit;
}

export function Phase({ draft, phase, sheet, margin, fixed, edit }: PhaseProps) {
  const [treating, setTreating] = useState(false);
  const [openLine, setOpenLine] = useState('');
  const [fresh, setFresh] = useState('');
  const { letter, treatment } = phase;
  const lines = draft.lines.filter((l) => l.phase === letter);
  const layer = sheet?.layers.find((l) => l.phase === letter);
  return (
    <section class="phase" data-phase={letter} aria-label={`Phase ${letter}`}>
      <h2 class="ph">
        <span class="letter">{letter}</span>
        {layer && <Fig of={{ text: layer.percent, sum: layer.sum ?? '' }} label={`Phase ${letter}`} />}
        {fixed ? (
          <span class="doing">{treatmentWords(treatment, phase.pot)}</span>
        ) : (
          <button type="button" class="doing" aria-expanded={treating} onClick={() => setTreating(!treating)}>
            {treatmentWords(treatment, phase.pot) || 'no treatment'}
          </button>
        )}
      </h2>
      {treating && (
        <div class="detail">
          <Choice label={`Phase ${letter} is`} options={[{ value: '', text: 'as it is' }, ...doings]} value={treatment.do} set={(v) => edit((now) => setPhase(now, letter, { do: v }))} />
          <div class="pair">
            <Field label="to" name="to" hint="75 C or 100 F" value={treatment.to} set={(to) => edit((now) => setPhase(now, letter, { to }))} />
            <Field label="hold" name="hold" mode="decimal" unit="min" value={treatment.holdMin} set={(holdMin) => edit((now) => setPhase(now, letter, { holdMin }))} />
          </div>
          {(treatment.do === 'heat' || treatment.do === 'melt') && (
            <Field
              label="stands in"
              name="pot"
              hint="beaker, mixing bowl; phases in one pot are heated together. Empty: a pot of its own"
              value={phase.pot ?? ''}
              set={(pot) => edit((now) => setPot(now, letter, pot))}
            />
          )}
          {draft.phases.length > 1 && (
            <button
              type="button"
              class="quiet stop"
              onClick={() => {
                edit((now) => removePhase(now, letter));
                offerUndo(`Phase ${letter} taken out.`, () => edit((now) => putBackPhase(now, phase, draft.phases.indexOf(phase), lines)));
              }}
            >
              Take out phase {letter}
            </button>
          )}
        </div>
      )}
      <MarginNotes of={margin.phase(letter)} />
      {lines.map((line) => {
        const known = sheet?.lines.find((l) => l.id === line.id);
        return (
          <div key={line.id}>
            <Line
              line={line}
              known={known}
              notes={margin.line(line.id)}
              fresh={fresh === line.id}
              open={openLine === line.id}
              fixed={fixed}
              toggle={() => setOpenLine(openLine === line.id ? '' : line.id)}
              setPercent={(percent) => edit((now) => setLine(now, line.id, { percent }))}
            />
            {openLine === line.id && <LineDetail draft={draft} line={line} name={known?.name ?? 'The line'} edit={edit} close={() => setOpenLine('')} />}
          </div>
        );
      })}
      {!fixed && (
        <Picker
          label={`Add to phase ${letter}`}
          bases
          self={draft.key}
          pick={(chosen) => {
            edit((now) => {
              const added = addLine(now, letter, chosen);
              setFresh(added.id);
              return added.draft;
            });
          }}
        />
      )}
    </section>
  );
}
