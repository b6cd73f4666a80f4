// How this phone goes on when it cannot by itself: what happened, what is kept, what will happen, and one key.

import { useState } from 'preact/hooks';
import { goOnAsNew, link } from '../../shell/client';
import { Screen } from '../frame/screen';
import { levelWord } from '../words';

const back = { to: '/settings', text: 'Settings' };

export function AgainScreen() {
  const { way, trouble, told, unsent, online } = link.value;
  const [busy, setBusy] = useState(false);
  const go = () => {
    setBusy(true);
    void goOnAsNew().finally(() => setBusy(false));
  };
  if (!way) {
    return (
      <Screen name="again" title="This phone" back={back} bare>
        <p class="lead">{told || trouble || (online ? 'Phone and home store agree. Nothing has to be done.' : 'The home store does not answer now. This phone keeps all that it holds; whether something is to be done is told here when it answers.')}</p>
      </Screen>
    );
  }
  return (
    <Screen
      name="again"
      look="record"
      title={way.title}
      back={back}
      bare
      foot={
        way.anew && (
          <button type="button" class="btn" disabled={busy} onClick={go}>
            {busy ? 'Going on …' : 'Go on as a new device'}
          </button>
        )
      }
    >
      {told && (
        <div class="note note-note" role="alert" data-part="told">
          <i class="word">{levelWord.note}</i> {told}
        </div>
      )}
      <section>
        <h2 class="ph">
          <span>what happened</span>
        </h2>
        <p>{way.happened}</p>
      </section>
      <section>
        <h2 class="ph">
          <span>what is kept</span>
        </h2>
        <p>
          {way.kept} {unsent > 0 && <b class="num">{unsent === 1 ? '1 row is on this phone alone.' : `${unsent} rows are on this phone alone.`}</b>}
        </p>
      </section>
      <section>
        <h2 class="ph">
          <span>{way.anew ? 'what the key does' : 'what to do'}</span>
        </h2>
        <p>{way.will}</p>
        <a href="/rescue.html" class="kv">
          <span>
            all that is kept here
            <small>as a file, to be on the safe side</small>
          </span>
          <span class="go">save</span>
        </a>
      </section>
      {trouble && <p class="faint">{trouble}</p>}
    </Screen>
  );
}
