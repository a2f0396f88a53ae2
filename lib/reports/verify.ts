import 'server-only';
import type { ChainAnchor } from '@/lib/audit/schema';
import { dayOf } from '@/lib/platform/clock';
import { digestReport } from './digest';
import { readSigned } from './repo/reports';
import { frozenReport } from './schema';

export type SignedReports = {
  reports: number;
  /** The ends of audit chains that were printed on them. */
  anchors: ChainAnchor[];
  /** Reports whose frozen content no longer gives the digest on their pages. */
  faults: { id: string; report: string; why: string }[];
};

/** Digests every signed report anew and collects the ends of audit chains they keep: `npm run verify`. */
export async function verifySignedReports(): Promise<SignedReports> {
  const found: SignedReports = { reports: 0, anchors: [], faults: [] };
  for await (const { id, collectionId, permit, fromOn, toOn, edition, frozen, digest } of readSigned()) {
    found.reports += 1;
    const report = `${permit.number}, ${dayOf(fromOn)} to ${dayOf(toOn)}, edition ${edition}`;
    const kept = frozenReport.safeParse(frozen);
    if (!kept.success) found.faults.push({ id, report, why: 'its frozen content is not a report any more' });
    else {
      if (digestReport(kept.data) !== digest)
        found.faults.push({ id, report, why: 'its content does not give its digest' });
      found.anchors.push({ collectionId, ...kept.data.auditHead, source: `the signed report ${report}` });
    }
  }
  return found;
}
