// A refusal, next to what was typed: what happened, what was kept, what to do.

import { link } from '../../shell/client';
import type { Refusal } from '../../shell/contract';
import { WayOn } from './wayon';

/** Refusals of a phone that cannot go on under its name. */
const SHUT = ['behind', 'row', 'mending'];

export function Trouble({ error, id }: { error: Refusal | undefined; id?: string }) {
  if (!error) return null;
  return (
    <p class="trouble" role="alert" id={id} data-code={error.code}>
      <i class="word">stop</i> {error.says} {error.hint && <span class="hint">{error.hint}</span>}
      {link.value.way && SHUT.includes(error.code) && <WayOn />}
    </p>
  );
}
