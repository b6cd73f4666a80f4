/** The mark of *wear*: a mask, in ink. */
export function MaskMark({ size }: { size: number }) {
  return (
    <svg class="mask" viewBox="0 0 34 34" width={size} height={size} aria-hidden="true">
      <path d="M6 14c0-7 22-7 22 0v6c0 9-22 9-22 0z" />
      <path d="M11 17h12M11 21.5h12M6 14L1 11M28 14l5-3" />
    </svg>
  );
}
