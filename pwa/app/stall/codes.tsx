// Codes one after the other, by camera or by hand, with a running count and a short beep, so that the eyes stay on the jars.

import { useEffect, useRef, useState } from 'preact/hooks';
import { ask, scanTrouble } from '../../shell/client';
import type { Refusal } from '../../shell/contract';
import { useCamera } from '../parts/camera';
import { Trouble } from '../parts/trouble';
import { count } from '../words';

export interface Coded {
  code: string;
  shown: string;
  batch: string;
  name: string;
}

interface CodesProps {
  of: readonly Coded[];
  edit: (change: (now: Coded[] | undefined) => Coded[]) => void;
  /** only released jars may go there */
  toStall: boolean;
}

/** A twelfth of a second at 880 Hz: heard over a market, and not by the next stall. */
function beep(sound: AudioContext): void {
  const tone = sound.createOscillator();
  tone.frequency.value = 880;
  tone.connect(sound.destination);
  tone.start();
  tone.stop(sound.currentTime + 0.08);
}

export function Codes({ of, edit, toStall }: CodesProps) {
  const [looking, setLooking] = useState(false);
  const [code, setCode] = useState('');
  const [error, setError] = useState<Refusal | undefined>(undefined);
  const video = useRef<HTMLVideoElement>(null);
  const sound = useRef<AudioContext | undefined>(undefined);

  const take = async (text: string) => {
    const jar = await ask('jar', { code: text });
    if (!jar.ok) {
      setError(jar.error);
      return false;
    }
    const { value } = jar;
    const { row } = value.batch;
    if (toStall && value.batch.barred) {
      setError({ code: 'barred', says: `${value.shown} stays at home: ${value.batch.barred}.`, hint: row.state === 'released' ? 'Take another jar.' : 'Look at the batch and release it by name first.', field: '' });
      return false;
    }
    setError(undefined);
    edit((now) => {
      const before = now ?? [];
      if (before.some((c) => c.code === value.code)) return before;
      if (sound.current) beep(sound.current);
      return [{ code: value.code, shown: value.shown, batch: row.key, name: row.name }, ...before];
    });
    return true;
  };

  useEffect(() => {
    if (looking && video.current) sound.current ??= new AudioContext();
  }, [looking]);
  useCamera(video, looking, (text) => void take(text));

  return (
    <section data-part="codes">
      <h2 class="ph">
        <span>or jar by jar</span>
        <span class="faint num">{of.length > 0 && count(of.length, 'jar', 'jars')}</span>
      </h2>
      {looking && !scanTrouble.value && (
        <div class="finder">
          <video ref={video} aria-label="What the camera sees" playsInline muted />
          <span class="finder-frame" aria-hidden="true" />
          <b class="running num" aria-live="polite">
            {of.length}
          </b>
        </div>
      )}
      {looking && scanTrouble.value && (
        <p class="note note-note" role="status">
          <i class="word">note</i> {scanTrouble.value}
        </p>
      )}
      <button type="button" class="btn second low" onClick={() => setLooking(!looking)}>
        {looking ? 'Close the camera' : 'Scan one after the other'}
      </button>
      <form
        class="type-code"
        onSubmit={(e) => {
          e.preventDefault();
          void take(code).then((taken) => taken && setCode(''));
        }}
      >
        <label for="one-code">or type a code</label>
        <div class="write">
          <input id="one-code" name="code" class="code num" type="text" autocomplete="off" autocapitalize="characters" spellcheck={false} value={code} onInput={(e) => setCode(e.currentTarget.value)} />
          <button type="submit" class="btn second" disabled={!code.trim()}>
            Add
          </button>
        </div>
        <Trouble error={error} />
      </form>
      {of.map((c) => (
        <div key={c.code} class="kv">
          <span>
            <b class="code num">{c.shown}</b>
            <small>{c.name}</small>
          </span>
          <button type="button" class="quiet" aria-label={`Leave ${c.shown} out`} onClick={() => edit((now) => (now ?? []).filter((o) => o.code !== c.code))}>
            leave out
          </button>
        </div>
      ))}
    </section>
  );
}
