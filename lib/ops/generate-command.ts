import { runCommand } from './command';
import { generateClient } from './generate';

/** `npm run db:generate`: writes the database client from prisma/schema. */
runCommand(async () => {
  generateClient({ isForced: true });
  console.log('The database client is in lib/platform/generated.');
});
