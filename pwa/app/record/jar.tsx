// A jar by its code: what it is, what went in, and where the others are.

import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Fig } from '../parts/figure';
import { Jar } from '../parts/jar';
import { Go } from '../parts/link';
import { StateWord } from '../parts/stateword';
import { go } from '../route';
import { Jars } from './jars';
import { MoveJar } from './movejar';
import { Standing } from './standing';
import { WentIn } from './wentin';

const back = { to: '/scan', text: 'Scan another' };

export function JarScreen({ code }: { code: string }) {
  const answer = useView('jar', { code });
  if (!answer) return <NotThere name="jar" title="" back={back} />;
  if (!answer.ok) return <NotThere name="jar" title="No jar by this code" back={back} error={answer.error} />;
  const jar = answer.value;
  const { batch } = jar;
  const facts = [
    ['made', batch.made, ''],
    ['best before', jar.bestBefore, jar.bestSum],
    ['net', jar.net, jar.netSum],
    ['it stands', jar.place, ''],
  ].filter((f) => f[1]) as [string, string, string][];
  return (
    <Screen
      name="jar"
      look="record"
      back={back}
      title={batch.row.name}
      sub={
        <>
          <b class="num code">{jar.shown}</b> · jar {jar.number} of {jar.of} · <StateWord state={batch.row.state} />
        </>
      }
      foot={
        <div class="foot-acts">
          <button type="button" class="btn second" onClick={() => go(`/batches/${batch.row.key}`)}>
            The whole record
          </button>
          {batch.canHold && <Standing of={{ ...batch, canRelease: false, canLook: false }} />}
        </div>
      }
    >
      {(batch.row.state === 'held' || batch.row.state === 'discarded') && (
        <div role="note" class="note note-stop">
          <i class="word">stop</i> {batch.row.says || batch.row.state}. Do not use it; contact the maker.
        </div>
      )}
      {batch.row.purpose === 'trial' && (
        <div role="note" class="note note-care">
          <i class="word">take care</i> A trial: not for sale.
        </div>
      )}
      {jar.read && (
        <div role="note" class="note note-note">
          <i class="word">note</i> {jar.read}
        </div>
      )}
      <div class="columns">
        <div>
          <div class="record-head">
            <Jar layers={batch.layers} fit />
            <div>
              {facts.map(([word, text, sum]) => (
                <div key={word} class="kv">
                  <span>{word}</span>
                  <Fig of={{ text, sum }} label={word} />
                </div>
              ))}
              <Go to={`/batches/${batch.row.key}`} class="kv">
                <span>batch</span>
                <span class="go num">{batch.row.code}</span>
              </Go>
            </div>
          </div>
          <MoveJar of={jar} />
        </div>
        <div>
          <WentIn of={batch.wentIn} />
          <Jars jars={batch.jars} says={batch.jarsSays} places={batch.places} />
        </div>
      </div>
    </Screen>
  );
}
