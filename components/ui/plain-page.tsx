import type { ReactNode } from 'react';
import { Link } from '@/components/ui/link';
import { sayWith } from '@/components/ui/say-with';
import { Mark } from './mark';
import classes from './plain-page.module.css';

/** A page outside the workspace: sign-in, slips, what was not found. One column on paper. */
export function PlainPage({
  title,
  lede,
  children,
  wide = false,
}: {
  title: string;
  lede?: ReactNode;
  children?: ReactNode;
  wide?: boolean;
}) {
  return (
    <div className={classes.page}>
      <header className={classes.brand}>
        <Link href="/" className={classes.name}>
          {sayWith('{mark}Furcula', { mark: <Mark /> })}
        </Link>
      </header>
      <main id="main" className={classes.column} data-wide={wide || undefined}>
        <h1>{title}</h1>
        {lede && <div className={classes.lede}>{lede}</div>}
        {children}
      </main>
    </div>
  );
}
