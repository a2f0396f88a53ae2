import { redirect } from 'next/navigation';
import type { ReactNode } from 'react';
import { WAITING_KEY } from '@/components/desk/waiting';
import { UNREAD_KEY } from '@/components/notices/unread';
import type { Finds } from '@/components/shell/command-entries';
import { Workspace } from '@/components/shell/workspace';
import { type Place, placesOf, stagesOf } from '@/lib/desk/places';
import { countWaitingFor, describeWorkspace } from '@/lib/desk/service';
import { countUnreadNotices } from '@/lib/notices/service/notices';
import type { Actor } from '@/lib/platform/actor';
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
      { key: WAITING_KEY, load: () => countWaitingFor(actor) },
      ...(may(actor, 'notices.see') ? [{ key: UNREAD_KEY, load: () => countUnreadNotices(actor) }] : []),
    ],
    <Workspace
      actor={{ ...actor }}
      collection={collection}
      demo={demo}
      {...navigationOf(actor)}
      finds={findsOf(actor)}
      offers={{
        notices: may(actor, 'notices.see'),
        scanning: may(actor, 'storage.see'),
        logging: may(actor, 'salvage.log'),
      }}
    >
      {children}
    </Workspace>,
  );
}

/** The way about, made here: the browser needs the table of all places only when the command menu opens. */
function navigationOf(actor: Actor) {
  const places = placesOf(actor);
  const linkOf = ({ id, label, href }: Place) => ({ id, label, href });
  return {
    home: places.filter(({ kind }) => kind === 'home').map(linkOf)[0],
    stages: stagesOf(actor).map((stage) => ({ ...linkOf(stage), id: stage.id })),
    beside: places.filter(({ kind }) => kind === 'beside').map(linkOf),
  };
}

function findsOf(actor: Actor): Finds {
  if (!may(actor, 'catalogue.see')) return 'nothing';
  return may(actor, 'salvage.see') ? 'birds' : 'specimens';
}
