// Too much went in: the ways out in the order in which the engine thinks of them, each with its figures. Taking one
// writes ordinary rows; what comes back out is weighed.

import type { RescueWay } from '../../shell/contract-aid';
import { useView } from '../book';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Fig } from '../parts/figure';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';
import { go } from '../route';
import type { PanelProps } from './add';
import { beside, type Beside } from './step';

const stirredIn = [
  { value: 'no', text: 'not stirred yet' },
  { value: 'yes', text: 'stirred in' },
];

/** What the formula does not name stands under "+" and its ingredient. */
function addOf(phase: string, line: string): Beside {
  return line.startsWith('+') ? { ...beside('add', phase), ingredient: line.slice(1) } : beside('add', phase, line);
}

interface RescueProps extends PanelProps {
  open: (what: Beside) => void;
}

export function RescuePanel({ batch, act, of, change, close, open }: RescueProps) {
  const stirred = of.stirred ?? '';
  const room = of.volume ?? '';
  const answer = useView('rescue', { batch, stirred, room });
  if (!answer) return <div class="body" />;
  if (!answer.ok || !answer.value.says) {
    return (
      <>
        <div class="body">
          {!answer.ok ? <Trouble error={answer.error} /> : <p>Nothing in the pot is over its plan, or it was accepted.</p>}
        </div>
        <div class="act">
          <button type="button" class="btn" onClick={close}>
            Back to the steps
          </button>
        </div>
      </>
    );
  }
  const rescue = answer.value;
  const way = rescue.ways.find((w) => w.way === of.way && w.open) ?? rescue.ways.find((w) => w.open);
  const take = async () => {
    if (!way || !(await act.run('batch.rescue', { batch, way: way.way, stirred, room }))) return;
    close();
    if (way.way === 'discard') go(`/batches/${batch}`);
  };
  return (
    <>
      <div class="body step rescue" data-step="rescue">
        {rescue.findings.map((f) => (
          <Note key={f.rule + f.line} of={f} />
        ))}
        <Choice label="Is it stirred in" quiet options={stirredIn} value={rescue.stirred ? 'yes' : 'no'} set={(s) => change({ stirred: s, way: undefined })} />
        <ol class="ways-out">
          {rescue.ways.map((w) => (
            <Way key={w.way} of={w} chosen={w === way} choose={() => change({ way: w.way })} />
          ))}
        </ol>
        <Field label="The vessel may be filled to" name="room" mode="decimal" unit="mL" value={room} set={(volume) => change({ volume })} {...(rescue.room ? { hint: rescue.room } : {})} />
        <Trouble error={act.error} />
      </div>
      <div class="act">
        <div class="two">
          <button type="button" class="btn second" onClick={close}>
            Decide later
          </button>
          {way?.way === 'take back' ? (
            way.lines.slice(0, 1).map((l) => (
              <button key={l.line} type="button" class="btn" data-part="take-way" onClick={() => open({ ...addOf(of.phase, l.line), out: true, why: 'a rescue' })}>
                Weigh it out
              </button>
            ))
          ) : (
            <button type="button" class={way?.way === 'discard' ? 'btn danger' : 'btn'} disabled={act.busy || !way} data-part="take-way" onClick={() => void take()}>
              {way?.name}
            </button>
          )}
        </div>
      </div>
    </>
  );
}

function Way({ of, chosen, choose }: { of: RescueWay; chosen: boolean; choose: () => void }) {
  return (
    <li class={of.open ? 'way' : 'way closed'} data-way={of.way} aria-current={chosen ? 'true' : undefined}>
      <button type="button" class="kv" aria-expanded={chosen} disabled={!of.open} onClick={choose}>
        <span>
          <b>{of.name}</b>
          {!of.open && <small>{of.why}</small>}
        </span>
        {!of.open && <i class="word">closed</i>}
      </button>
      {chosen && (
        <div class="way-in">
          <p>{of.says}</p>
          {of.lines.length > 0 && (
            <table class="way-lines">
              <thead>
                <tr>
                  <th>line</th>
                  <th class="num">in</th>
                  <th class="num">{of.way === 'take back' ? 'comes out' : 'goes in'}</th>
                  <th class="num">then</th>
                </tr>
              </thead>
              <tbody>
                {of.lines.map((l) => (
                  <tr key={l.line}>
                    <td>{l.name}</td>
                    <td class="num">{l.in}</td>
                    <td class="num">{l.add || '–'}</td>
                    <td class="num">{l.percent.text && <Fig of={l.percent} label={`Share of ${l.name}`} />}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
          {of.findings.map((f) => (
            <Note key={f.rule + f.line + f.says} of={f} />
          ))}
        </div>
      )}
    </li>
  );
}
