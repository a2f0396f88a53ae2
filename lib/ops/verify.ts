import type { Client } from 'pg';
import { verifyFiles } from '@/lib/attachments/public';
import { verifyAllChains } from '@/lib/audit/public';
import type { ChainAnchor, ChainVerdict } from '@/lib/audit/schema';
import { verifySignedReports } from '@/lib/reports/public';
import { connectTo } from './connect';
import { INVARIANTS } from './invariants';

export type InvariantOutcome = {
  id: string;
  says: string;
  broken: number;
  examples: Record<string, unknown>[];
};

const EXAMPLES = 5;

/** Asks every invariant of a database; an outcome with `broken` above 0 names the first rows that break it. */
export async function askInvariants(databaseUrl: string): Promise<InvariantOutcome[]> {
  const client: Client = await connectTo(databaseUrl);
  try {
    const outcomes: InvariantOutcome[] = [];
    for (const { id, says, sql } of INVARIANTS) {
      const { rows } = await client.query<Record<string, unknown>>(sql);
      outcomes.push({ id, says, broken: rows.length, examples: rows.slice(0, EXAMPLES) });
    }
    return outcomes;
  } finally {
    await client.end();
  }
}

/** One line for a person to read; `bad` where something is not as it must be. */
export type Finding = { bad: boolean; text: string; details: string[] };

/**
 * Everything that can be proved of an installation: audit chains against their own digests, signed reports and given
 * anchors; signed reports; invariants; files. Works on the database and the file store of this process's settings.
 */
export async function verifyInstallation(
  databaseUrl: string,
  anchors: readonly ChainAnchor[] = [],
): Promise<{ findings: Finding[]; chains: ChainVerdict[] }> {
  const signed = await verifySignedReports();
  const all = [...signed.anchors, ...anchors];
  const chains = await verifyAllChains(all);
  const invariants = await askInvariants(databaseUrl);
  const { files, faults } = await verifyFiles();
  return {
    chains,
    findings: [
      ...chains.map((chain) => describeChain(chain, all)),
      {
        bad: signed.faults.length > 0,
        text: `${signed.reports} signed reports: ${signed.faults.length === 0 ? 'each gives its digest' : 'CHANGED'}`,
        details: signed.faults.map(({ report, why }) => `${report}: ${why}`),
      },
      ...invariants.map(({ says, broken, examples }) => ({
        bad: broken > 0,
        text: `${broken === 0 ? 'true  ' : 'BROKEN'}  ${says}`,
        details: examples.map((example) => JSON.stringify(example)),
      })),
      {
        bad: faults.length > 0,
        text: `${files} files: ${faults.length === 0 ? 'each as it was handed in' : 'DAMAGED'}`,
        details: faults.map(({ id, copy, why }) => `${id} (${copy}): ${why}`),
      },
    ],
  };
}

function describeChain(
  { collectionId, rows, ok, firstBad, head }: ChainVerdict,
  anchors: readonly ChainAnchor[],
) {
  const kept = anchors.filter((anchor) => anchor.collectionId === collectionId).length;
  const said = ok ? `whole, ${kept} anchors hold` : `BROKEN at ${firstBad?.seq}: ${firstBad?.why}`;
  return {
    bad: !ok,
    text: `Audit chain of collection ${collectionId}: ${rows} events, ${said}`,
    details: [`head ${head || '(empty)'}`],
  };
}

/** Prints findings; returns how many are faults. */
export function reportFindings(findings: readonly Finding[]): number {
  for (const { text, details } of findings) {
    console.log(text);
    for (const detail of details) console.log(`          ${detail}`);
  }
  const faults = findings.filter(({ bad }) => bad).length;
  console.log(faults === 0 ? 'Everything is as it must be.' : `${faults} faults.`);
  return faults;
}
