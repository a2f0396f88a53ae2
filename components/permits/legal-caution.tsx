import { CautionCard } from '@/components/ui/caution-card';
import { legalCaution } from '@/lib/permits/caution';
import { say } from '@/lib/platform/words/say';

/** Ends every page that speaks of law. */
export function LegalCaution() {
  return (
    <CautionCard
      title={say('Information, not legal advice')}
      source={say('the permits and rule packs named on this page, as they were entered here')}
    >
      <p>{legalCaution}</p>
    </CautionCard>
  );
}
