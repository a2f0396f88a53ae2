import { redirect } from 'next/navigation';
import type { ReactNode } from 'react';
import { deskKeys } from '@/components/desk/queries';
import { Workspace } from '@/components/shell/workspace';
import { countWaitingFor, describeWorkspace } from '@/lib/desk/service';
import { currentActor } from '@/lib/platform/identity/session';
import { withQueries } from '@/lib/platform/page';
import { paths } from '@/lib/platform/paths';

export default async function WorkspaceLayout({ children }: { children: ReactNode }) {
  const actor = await currentActor();
  if (actor === null) redirect(paths.signIn);
  const { collection, demo } = await describeWorkspace(actor);
  return withQueries(
    [{ key: deskKeys.waiting, load: () => countWaitingFor(actor) }],
    <Workspace actor={{ ...actor }} collection={collection} demo={demo}>
      {children}
    </Workspace>,
  );
}
