import { verifyFiles } from '@/lib/attachments/public';
import { verifyAllChains } from '@/lib/audit/public';
import { closeDb } from '@/lib/platform/db';
import { runCommand } from './command';
import { askInvariants } from './verify';
import { withDatabase } from './with-database';

/** `npm run verify`: walks every audit chain and asks every invariant. Exit code 1 when anything is not as it must be. */
runCommand(() =>
  withDatabase(async (databaseUrl) => {
    process.env.DATABASE_URL = databaseUrl;
    let faults = 0;
    for (const chain of await verifyAllChains()) {
      if (!chain.ok) faults += 1;
      const said = chain.ok ? 'whole' : `BROKEN at ${chain.firstBad?.seq}: ${chain.firstBad?.why}`;
      console.log(`Audit chain of collection ${chain.collectionId}: ${chain.rows} events, ${said}`);
      console.log(`  head ${chain.head || '(empty)'}`);
    }
    for (const { says, broken, examples } of await askInvariants(databaseUrl)) {
      if (broken > 0) faults += 1;
      console.log(`${broken === 0 ? 'true  ' : 'BROKEN'}  ${says}`);
      for (const example of examples) console.log(`          ${JSON.stringify(example)}`);
    }
    const { files, faults: damaged } = await verifyFiles();
    faults += damaged.length;
    console.log(`${files} files: ${damaged.length === 0 ? 'each as it was handed in' : 'DAMAGED'}`);
    for (const { id, copy, why } of damaged) console.log(`          ${id} (${copy}): ${why}`);
    await closeDb();
    console.log(faults === 0 ? 'Everything is as it must be.' : `${faults} faults.`);
    if (faults > 0) process.exitCode = 1;
  }),
);
