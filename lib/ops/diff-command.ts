import { readNameArgument, runCommand } from './command';
import { diffSchema, writeMigration } from './diff';

/** `npm run db:diff -- <name>`: writes the migration that brings the database to prisma/schema. */
runCommand(async () => {
  const name = readNameArgument('the migration a name');
  const sql = await diffSchema();
  if (sql === undefined) {
    console.log('The migrations and prisma/schema agree: nothing to write.');
    return;
  }
  console.log(sql);
  console.log(
    `Written to ${writeMigration(name, sql)}. Read it; add checks and triggers by hand at its end.`,
  );
});
