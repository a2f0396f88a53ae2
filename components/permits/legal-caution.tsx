import { CautionCard } from '@/components/ui/caution-card';
import { legalCaution } from '@/lib/permits/schema';

/** Ends every page that speaks of law. */
export function LegalCaution() {
  return (
    <CautionCard
      title="Information, not legal advice"
      source="the permits and rule packs named on this page, as they were entered here"
    >
      <p>{legalCaution}</p>
    </CautionCard>
  );
}
