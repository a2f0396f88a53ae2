import { IconShieldExclamation } from '@tabler/icons-react';
import type { ReactNode } from 'react';
import { sayWith } from '@/components/ui/say-with';
import { say, translate } from '@/lib/platform/words/say';
import classes from './caution-card.module.css';

/**
 * A short caution where the work can hurt somebody or break the law. Always ends with who decides: the local rules.
 * `source` names where the caution comes from.
 */
export function CautionCard({
  title,
  children,
  source,
  sourceHref,
  closing = say('Local rules decide.'),
}: {
  title: string;
  children: ReactNode;
  source: string;
  sourceHref?: string;
  closing?: string;
}) {
  return (
    <aside className={classes.card} aria-label={say('Caution: {title}', { title })}>
      <IconShieldExclamation size={24} stroke={1.5} aria-hidden="true" className={classes.icon} />
      <div>
        <p className={classes.title}>{title}</p>
        <div className={classes.words}>{children}</div>
        <p className={classes.source}>
          {sayWith('Source: {source}. {closing}', {
            source: sourceHref ? <a href={sourceHref}>{translate(source)}</a> : translate(source),
            closing,
          })}
        </p>
      </div>
    </aside>
  );
}
