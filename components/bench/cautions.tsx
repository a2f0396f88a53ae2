import { CautionCard } from '@/components/ui/caution-card';
import type { CautionId } from '@/lib/bench/caution-titles';
import { CAUTION_ENDING, CAUTIONS } from '@/lib/bench/cautions';

/** The caution cards of a step, or of several, each once. */
export function Cautions({ ids }: { ids: readonly CautionId[] }) {
  const cards = CAUTIONS.filter(({ id }) => ids.includes(id));
  return (
    <>
      {cards.map((card) => (
        <CautionCard key={card.id} title={card.title} source={card.source} closing={CAUTION_ENDING}>
          <p>{card.text}</p>
        </CautionCard>
      ))}
    </>
  );
}
