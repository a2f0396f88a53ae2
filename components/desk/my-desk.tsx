'use client';

import { useQuery } from '@tanstack/react-query';
import { ErrorState } from '@/components/ui/error-state';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { DeskHead } from '@/components/ui/page-head';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import type { DeskItem, DeskPile } from '@/lib/desk/schema';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import classes from './my-desk.module.css';
import { pilesOptions } from './queries';

/** A person's first page: what to do next, pile by pile; piles with nothing in them stand last, in one line. */
export function MyDesk() {
  const piles = useQuery(pilesOptions());
  if (piles.error)
    return (
      <ErrorState
        what={say('Your desk could not be loaded.')}
        error={piles.error}
        onRetry={() => void piles.refetch()}
      />
    );
  if (piles.data === undefined) return <Loading what={say('Laying out your desk')} lines={8} />;
  const full = piles.data.piles.filter((pile) => pile.total > 0);
  const done = piles.data.piles.filter((pile) => pile.total === 0);
  return (
    <>
      <DeskHead
        title={say('Good day, {split}', { split: piles.data.name.split(' ')[0] ?? '' })}
        lede={full.length === 0 ? say('Nothing waits for you.') : say('This is what waits for you.')}
      />
      <div className={classes.piles}>
        {full.map((pile) => (
          <Pile key={pile.id} pile={pile} />
        ))}
      </div>
      {done.length === 0 ? null : (
        <ul className={classes.done} aria-label={say('Nothing to do here')}>
          {done.map((pile) => (
            <li key={pile.id}>
              {pile.href === null ? pile.empty : <Link href={pile.href}>{pile.empty}</Link>}
            </li>
          ))}
        </ul>
      )}
      <p className={classes.tour}>
        {sayWith('New here? Follow {link}.', {
          link: <Link href={paths.tour}>{say('one bird from find to shelf')}</Link>,
        })}
      </p>
    </>
  );
}

function Pile({ pile }: { pile: DeskPile }) {
  return (
    <section className={classes.pile} aria-labelledby={`pile-${pile.id}`}>
      <h2 id={`pile-${pile.id}`}>
        {pile.title} <span className={classes.count}>{pile.total}</span>
      </h2>
      <ol>
        {pile.items.map((item) => (
          <Item key={item.id} item={item} />
        ))}
      </ol>
      {pile.href === null || pile.total <= pile.items.length ? null : (
        <Link href={pile.href} className={classes.all}>
          {say('All {total}', { total: pile.total })}
        </Link>
      )}
    </section>
  );
}

function Item({ item }: { item: DeskItem }) {
  return (
    <li>
      {item.href === null ? (
        <span className={classes.label}>{item.label}</span>
      ) : (
        <Link href={item.href} className={classes.item}>
          <span className={classes.label}>{item.label}</span>
          {item.scientificName === null ? null : <TaxonName scientific={item.scientificName} />}
        </Link>
      )}
      {item.tone === 'neutral' ? (
        <span className={classes.note}>{item.note}</span>
      ) : (
        <StateBadge tone={item.tone}>{item.note}</StateBadge>
      )}
    </li>
  );
}
