// The two keys of what is done beside the steps: leave it, or write it down.

interface SideFootProps {
  close: () => void;
  text: string;
  /** what leaving is called */
  leave?: string;
  part: string;
  disabled: boolean;
  write: () => Promise<void>;
}

export function SideFoot({ close, leave, text, part, disabled, write }: SideFootProps) {
  return (
    <div class="act">
      <div class="two">
        <button type="button" class="btn second" onClick={close}>
          {leave ?? 'Leave it'}
        </button>
        <button type="button" class="btn" disabled={disabled} data-part={part} onClick={() => void write()}>
          {text}
        </button>
      </div>
    </div>
  );
}
