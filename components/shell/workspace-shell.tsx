'use client';

import { IconMenu2 } from '@tabler/icons-react';
import dynamic from 'next/dynamic';
import { usePathname } from 'next/navigation';
import { type ReactNode, useRef, useState } from 'react';
import { useShortcuts } from '@/components/ui/shortcuts/use-shortcuts';
import { say } from '@/lib/platform/words/say';
import type { CommandActor, Finds } from './command-entries';
import type { RailStage } from './life-rail';
import { MenuButton } from './menu-button';
import { PersonMenu } from './person-menu';
import { useShellDialogs } from './shell-dialogs';
import { type BesideLink, StageNavigation } from './stage-navigation';
import classes from './workspace-shell.module.css';

/** Only phones open it, so only they load it. */
const StagesDrawer = dynamic(() => import('./stages-drawer').then((module) => module.StagesDrawer), {
  ssr: false,
});

export type WorkspaceShellProps = {
  actor: CommandActor;
  /** Name of the collection that is open. */
  collection: string;
  /** The stages this person may see, in the order of a bird's life. */
  stages: readonly RailStage[];
  /** The person's own first page, above the line. */
  home?: BesideLink;
  /** What lies beside the line: storage, taxa, places, people. */
  beside?: readonly BesideLink[];
  /** Shows that birds and people here are invented. */
  demo?: boolean;
  /** Which records the command menu opens for this person. */
  finds: Finds;
  notices?: ReactNode;
  children: ReactNode;
};

/** The frame of every page for people who are signed in: the life line on the left, the person on the right. */
export function WorkspaceShell({
  actor,
  demo = false,
  finds,
  notices,
  children,
  ...rest
}: WorkspaceShellProps) {
  const path = usePathname() ?? '/';
  const [drawer, setDrawer] = useState<'never' | 'open' | 'closed'>('never');
  const { open, prepare, dialogs } = useShellDialogs({ actor, finds });
  const menu = useRef<HTMLButtonElement>(null);
  useShortcuts('everywhere', {
    'everywhere.menu': () => open('menu'),
    'everywhere.keys': () => open('keys'),
  });
  const closeDrawer = () => {
    setDrawer('closed');
    menu.current?.focus();
  };
  return (
    <div className={classes.frame}>
      <a href="#main" className={classes.skip}>
        {say('Skip to the page')}
      </a>
      <aside className={classes.rail}>
        <StageNavigation {...rest} path={path} />
      </aside>
      {drawer !== 'never' && (
        <StagesDrawer {...rest} path={path} opened={drawer === 'open'} onClose={closeDrawer} />
      )}
      {dialogs}
      <div className={classes.page}>
        <header className={classes.head}>
          {demo && (
            <p className={classes.demo} role="note">
              {say('Demonstration: the birds, people and permits here are invented.')}
            </p>
          )}
          <div className={classes.strip}>
            <button
              ref={menu}
              type="button"
              className={classes.menu}
              onClick={() => setDrawer('open')}
              aria-expanded={drawer === 'open'}
            >
              <IconMenu2 size={22} stroke={1.5} aria-hidden="true" />
              <span className="f-hidden">{say('Stages')}</span>
            </button>
            <div className={classes.find}>
              <MenuButton onOpen={() => open('menu')} onNear={prepare} />
            </div>
            {notices}
            <PersonMenu name={actor.name} roles={actor.roles} onKeys={() => open('keys')} />
          </div>
        </header>
        <main id="main" tabIndex={-1} className={classes.main}>
          {children}
        </main>
      </div>
    </div>
  );
}
