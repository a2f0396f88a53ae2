'use client';

import { Drawer } from '@mantine/core';
import { useDisclosure } from '@mantine/hooks';
import { IconMenu2 } from '@tabler/icons-react';
import Link from 'next/link';
import { usePathname } from 'next/navigation';
import type { ReactNode } from 'react';
import { Mark } from '@/components/ui/mark';
import { isAt, LifeRail, type RailStage } from './life-rail';
import { PersonMenu } from './person-menu';
import classes from './workspace-shell.module.css';

export type BesideLink = { id: string; label: string; href: string };

export type WorkspaceShellProps = {
  actor: { name: string; roles: readonly string[] };
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
  quickFind?: ReactNode;
  notices?: ReactNode;
  children: ReactNode;
};

type SimpleLinkProps = { link: BesideLink; current: boolean; onNavigate?: () => void };

function SimpleLink({ link, current, onNavigate }: SimpleLinkProps) {
  return (
    <Link
      className={classes.beside}
      href={link.href}
      aria-current={current ? 'page' : undefined}
      onClick={onNavigate}
    >
      {link.label}
    </Link>
  );
}

function Navigation({
  collection,
  stages,
  home,
  beside = [],
  path,
  onNavigate,
}: Pick<WorkspaceShellProps, 'collection' | 'stages' | 'home' | 'beside'> & {
  path: string;
  onNavigate?: () => void;
}) {
  return (
    <>
      <div className={classes.brand}>
        <Link href={home?.href ?? '/'} className={classes.name} onClick={onNavigate}>
          <Mark />
          Furcula
        </Link>
        <p className={classes.collection}>{collection}</p>
      </div>
      <nav aria-label="Stages of a bird's life" className={classes.navigation}>
        {home && <SimpleLink link={home} current={path === home.href} onNavigate={onNavigate} />}
        <LifeRail stages={stages} path={path} onNavigate={onNavigate} />
      </nav>
      {beside.length > 0 && (
        <nav aria-label="Beside the line" className={classes.navigation}>
          {beside.map((link) => (
            <SimpleLink key={link.id} link={link} current={isAt(path, link.href)} onNavigate={onNavigate} />
          ))}
        </nav>
      )}
    </>
  );
}

/** The frame of every page for people who are signed in: the life line on the left, the person on the right. */
export function WorkspaceShell({
  actor,
  demo = false,
  quickFind,
  notices,
  children,
  ...rest
}: WorkspaceShellProps) {
  const path = usePathname() ?? '/';
  const [open, drawer] = useDisclosure(false);
  return (
    <div className={classes.frame}>
      <a href="#main" className={classes.skip}>
        Skip to the page
      </a>
      <aside className={classes.rail}>
        <Navigation {...rest} path={path} />
      </aside>
      <Drawer opened={open} onClose={drawer.close} title="Stages" size={304} className="f-screen-only">
        <Navigation {...rest} path={path} onNavigate={drawer.close} />
      </Drawer>
      <div className={classes.page}>
        <header className={classes.head}>
          {demo && (
            <p className={classes.demo} role="note">
              Demonstration: the birds, people and permits here are invented.
            </p>
          )}
          <div className={classes.strip}>
            <button type="button" className={classes.menu} onClick={drawer.open} aria-expanded={open}>
              <IconMenu2 size={22} stroke={1.5} aria-hidden="true" />
              <span className="f-hidden">Stages</span>
            </button>
            <div className={classes.find}>{quickFind}</div>
            {notices}
            <PersonMenu name={actor.name} roles={actor.roles} />
          </div>
        </header>
        <main id="main" tabIndex={-1} className={classes.main}>
          {children}
        </main>
      </div>
    </div>
  );
}
