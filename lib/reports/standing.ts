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

const keptCheck = z.object({ result: z.object({ reasons: z.array(z.object({ code: z.string() })) }) });
const keptRuling = z.object({ verdict: z.string(), cite: z.string(), reason: z.string() });

/** What the last coverage check kept on the record says of a bird's standing; nothing when it was never checked. */
export function specialStandingOf(coverageDetail: unknown): Standing[] {
  const parsed = keptCheck.safeParse(coverageDetail);
  if (!parsed.success) return [];
  const found = parsed.data.result.reasons.flatMap(({ code }) => STANDING_OF_CODE[code] ?? []);
  return [...new Set(found)].sort();
}

/** What an officer's ruling cites for holding a bird; null without one, or when it rules that it is not covered. */
export function separateAuthorityOf(coverageRuling: unknown): string | null {
  const parsed = keptRuling.safeParse(coverageRuling);
  if (!parsed.success || parsed.data.verdict !== 'covered') return null;
  return [parsed.data.cite, parsed.data.reason].filter((words) => words.trim() !== '').join(': ');
}
