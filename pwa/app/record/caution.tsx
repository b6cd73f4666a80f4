// The caution of every place where a product comes nearer to a buyer (trade.md, section 3), in the same words everywhere.

export const caution =
  'This book checks arithmetic and the rules that it names. It does not find a product safe or legal. Before anything is sold the law of the place decides: EU and UK ask for a safety assessment by a qualified person (Regulation (EC) 1223/2009, Art. 10), a product file, a notification, a responsible person and good practice first; in the US safety must be substantiated before sale, else the label must carry the warning of 21 CFR 740.10.';

export function Caution() {
  return (
    <p class="caution" data-part="caution">
      {caution}
    </p>
  );
}
