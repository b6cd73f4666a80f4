// The form of every correction: its own fields, why, what speaks against it, and the two ways out.

import type { ComponentChildren } from 'preact';
import type { Act } from '../act';
import { besides, elsewhere } from '../book';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';

interface CorrectionProps {
  act: Act;
  reason: string;
  setReason: (reason: string) => void;
  /** fields that show their own refusal; any other refusal stands at the foot */
  fields: readonly string[];
  send: () => Promise<void>;
  /** forget what was typed */
  leave: () => void;
  children: ComponentChildren;
}

export function Correction({ act, reason, setReason, fields, send, leave, children }: CorrectionProps) {
  return (
    <form
      class="correct-form"
      onSubmit={(e) => {
        e.preventDefault();
        void send();
      }}
    >
      {children}
      <Field label="Why" name="reason" value={reason} set={setReason} error={besides(act.error, 'reason')} />
      <Trouble error={elsewhere(act.error, fields)} />
      <div class="two">
        <button type="button" class="quiet" onClick={leave}>
          Leave as it was
        </button>
        <button type="submit" class="btn" disabled={act.busy}>
          Correct
        </button>
      </div>
    </form>
  );
}
