// A batch's jars at a place and a line to write how many.

import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import type { Refusal } from '../../shell/contract';
import type { Standing } from '../../shell/contract-stall';
import { Trouble } from '../parts/trouble';
import { lidMark } from './where';

interface CountRowProps {
  of: Standing;
  value: string;
  set: (count: string) => void;
  /** why nothing may be written here, '' when it may */
  barred?: string;
  error?: Refusal | undefined;
  /** offers a key that writes all of them */
  all?: boolean;
  children?: ComponentChildren;
}

export function CountRow({ of, value, set, barred, error, all, children }: CountRowProps) {
  const id = useId();
  return (
    <div class={barred ? 'count-row barred' : 'count-row'} data-batch={of.code}>
      <label for={id}>
        <b>{of.product}</b>
        <small class="num">
          {of.code} · lid {lidMark(of.code)} · {of.count} here
        </small>
        {barred && (
          <small>
            {of.state !== 'resting' && <i class="word stop">stop </i>}
            {barred}
          </small>
        )}
      </label>
      {!barred && (
        <div class="write">
          {all && (
            <button type="button" class="quiet num" onClick={() => set(String(of.count))}>
              all {of.count}
            </button>
          )}
          <input id={id} class="num" type="text" inputMode="numeric" autocomplete="off" name={`count-${of.code}`} value={value} onInput={(e) => set(e.currentTarget.value)} />
        </div>
      )}
      <Trouble error={error} />
      {children}
    </div>
  );
}
