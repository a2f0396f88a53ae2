import { runCommand } from './command';
import { generateClient } from './generate';
import { findStaleness, startBuild } from './web';

/** `npm run build`: writes the database client and builds the pages, each when it is stale. */
runCommand(async () => {
  generateClient();
  const digest = findStaleness();
  if (digest === undefined) {
    console.log('The build is up to date.');
    return;
  }
  const { finished } = await startBuild(digest);
  await finished;
  console.log('The pages are built.');
});
