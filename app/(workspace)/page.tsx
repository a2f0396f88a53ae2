import { redirect } from 'next/navigation';
import { MyDesk } from '@/components/desk/my-desk';
import { deskKeys } from '@/components/desk/queries';
import { showDesk } from '@/lib/desk/piles';
import { requireActor, titled, withQueries } from '@/lib/platform/page';
import { paths } from '@/lib/platform/paths';

export const generateMetadata = titled('My desk');

export default async function DeskPage() {
  const actor = await requireActor('workspace.enter');
  // Visitors come for the catalogue; nothing waits for them.
  if (actor.roles.every((role) => role === 'visitor')) redirect(paths.catalogue);
  return withQueries([{ key: deskKeys.piles, load: () => showDesk(actor) }], <MyDesk />);
}
