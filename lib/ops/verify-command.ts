import { parseArgs } from 'node:util';
import { readAnchors, writeAnchors } from '@/lib/audit/public';
import { closeDb } from '@/lib/platform/db';
import { runCommand } from './command';
import { OperatorError } from './operator-error';
import { reportFindings, verifyInstallation } from './verify';
import { withDatabase } from './with-database';

/**
 * `npm run verify [-- --anchor file] [-- --against file]`: proves audit chains, signed reports, invariants and files.
 * --anchor adds the chains' ends to a file to be kept elsewhere, when all is well; --against checks the chains by such
 * a file, which also finds a tail that was cut and a chain that was written anew. Exit code 1 on any fault.
 */
runCommand(async () => {
  const { anchor, against } = readOptions();
  const kept = against === undefined ? [] : await readAnchors(against).catch(refuse);
  await withDatabase(async (databaseUrl) => {
    process.env.DATABASE_URL = databaseUrl;
    const { findings, chains } = await verifyInstallation(databaseUrl, kept);
    await closeDb();
    const faults = reportFindings(findings);
    if (faults > 0) process.exitCode = 1;
    if (anchor === undefined) return;
    if (faults > 0)
      throw new OperatorError(`No anchor was written to ${anchor}: only what is whole is anchored.`);
    console.log(
      `${await writeAnchors(anchor, chains).catch(refuse)} anchors added to ${anchor}. Keep it elsewhere.`,
    );
  });
});

function readOptions(): { anchor?: string; against?: string } {
  try {
    return parseArgs({ options: { anchor: { type: 'string' }, against: { type: 'string' } } }).values;
  } catch (error) {
    return refuse(error);
  }
}

function refuse(error: unknown): never {
  throw new OperatorError(error instanceof Error ? error.message : String(error));
}
