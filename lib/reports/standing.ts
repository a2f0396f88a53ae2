import { z } from 'zod';
import type { LedgerBird } from './schema';

type Standing = LedgerBird['special'][number];

/** Codes of the coverage check's reasons that ask for a separate authority, and the standing each gives. */
const STANDING_OF_CODE: Record<string, Standing> = {
  eagle: 'eagle',
  'eagle-document': 'eagle',
  'eagle-nest-or-egg': 'eagle',
  'exhibition-eagle': 'eagle',
  listed: 'listed',
  'listed-agency': 'listed',
  'out-of-place': 'out-of-place',
};

const reasons = z.object({ reasons: z.array(z.object({ code: z.string() })) });

/** What the last coverage check kept on the record says of a bird's standing; nothing when it was never checked. */
export function specialStandingOf(coverageDetail: unknown): Standing[] {
  const parsed = reasons.safeParse(coverageDetail);
  if (!parsed.success) return [];
  return [...new Set(parsed.data.reasons.flatMap(({ code }) => STANDING_OF_CODE[code] ?? []))].sort();
}
