import { redirect } from 'next/navigation';
import type { ReactNode } from 'react';
import { deskKeys } from '@/components/desk/queries';
import { noticeKeys } from '@/components/notices/queries';
import { Workspace } from '@/components/shell/workspace';
import { countWaitingFor, describeWorkspace } from '@/lib/desk/service';
import { countUnreadNotices } from '@/lib/notices/service/notices';
import { currentActor } from '@/lib/platform/identity/session';
import { withQueries } from '@/lib/platform/page';
import { paths } from '@/lib/platform/paths';
import { may } from '@/lib/platform/permissions';
import { settlePageLanguage } from '@/lib/platform/words/request-language';

export default async function WorkspaceLayout({ children }: { children: ReactNode }) {
  await settlePageLanguage();
  const actor = await currentActor();
  if (actor === null) redirect(paths.signIn);
  const { collection, demo } = await describeWorkspace(actor);
  return withQueries(
    [
      { key: deskKeys.waiting, load: () => countWaitingFor(actor) },
      ...(may(actor, 'notices.see')
        ? [{ key: noticeKeys.count, load: () => countUnreadNotices(actor) }]
        : []),
    ],
    <Workspace actor={{ ...actor }} collection={collection} demo={demo}>
      {children}
    </Workspace>,
  );
}
