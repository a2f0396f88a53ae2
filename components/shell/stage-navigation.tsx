'use client';

import { Link } from '@/components/ui/link';
import { Mark } from '@/components/ui/mark';
import { sayWith } from '@/components/ui/say-with';
import { say } from '@/lib/platform/words/say';
import { isAt, LifeRail, type RailStage } from './life-rail';
import classes from './workspace-shell.module.css';

export type BesideLink = { id: string; label: string; href: string };

export type StageNavigationProps = {
  collection: string;
  stages: readonly RailStage[];
  home?: BesideLink;
  beside?: readonly BesideLink[];
  path: string;
  onNavigate?: () => void;
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

/** The whole navigation, in the rail and in the drawer: the mark, one's desk, the life line, what lies beside it. */
export function StageNavigation({
  collection,
  stages,
  home,
  beside = [],
  path,
  onNavigate,
}: StageNavigationProps) {
  return (
    <>
      <div className={classes.brand}>
        <Link href={home?.href ?? '/'} className={classes.name} onClick={onNavigate}>
          {sayWith('{mark}Furcula', { mark: <Mark /> })}
        </Link>
        <p className={classes.collection}>{collection}</p>
      </div>
      <nav aria-label={say("Stages of a bird's life")} className={classes.navigation}>
        {home && <SimpleLink link={home} current={path === home.href} onNavigate={onNavigate} />}
        <LifeRail stages={stages} path={path} onNavigate={onNavigate} />
      </nav>
      {beside.length > 0 && (
        <nav aria-label={say('Beside the line')} className={classes.navigation}>
          {beside.map((link) => (
            <SimpleLink key={link.id} link={link} current={isAt(path, link.href)} onNavigate={onNavigate} />
          ))}
        </nav>
      )}
    </>
  );
}
