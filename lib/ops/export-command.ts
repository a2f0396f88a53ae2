import { createWriteStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { atOneSnapshot, writePackage } from '@/lib/exchange/public';
import { runCommand } from './command';
import { connectTo } from './connect';
import { OperatorError } from './operator-error';
import { withDatabase } from './with-database';

/** `npm run db:export -- file.zip`: the whole installation as a Frictionless Data Package, to keep or to move. */
runCommand(() =>
  withDatabase(async (databaseUrl) => {
    const fileName = process.argv[2];
    if (!fileName) throw new OperatorError('Give a file to write: npm run db:export -- kept.zip');
    const client = await connectTo(databaseUrl);
    try {
      // Readable by its owner only: it holds all that the database holds.
      const out = createWriteStream(fileName, { flags: 'wx', mode: 0o600 });
      await atOneSnapshot(client, () => writePackage(client, out));
    } finally {
      await client.end();
    }
    console.log(
      `${fileName}: ${((await stat(fileName)).size / 1e6).toFixed(1)} MB. Keep it like the database.`,
    );
  }),
);
