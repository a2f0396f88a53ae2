import { say, sayWord } from '@/lib/platform/words/say';
import type { QueueRow } from '@/lib/queue/wire';
import classes from './priority-bar.module.css';

/** A bird's priority as a bar a person can read: each part as long as what it gives, with its sentence. */
export function PriorityBar({ priority, parts }: Pick<QueueRow, 'priority' | 'parts'>) {
  const given = parts.filter((part) => part.contribution >= 0.5);
  return (
    <details className={classes.priority}>
      <summary>
        <span className={classes.figure}>{Math.round(priority)}</span>
        <span className={classes.bar} aria-hidden="true">
          {given.map((part, index) => (
            <span key={part.component} data-part={index % 4} style={{ width: `${part.contribution}%` }} />
          ))}
        </span>
        <span className="f-hidden">{say('of 100, why?')}</span>
      </summary>
      <ul>
        {[...parts]
          .sort((a, b) => b.contribution - a.contribution)
          .map((part) => (
            <li key={part.component}>
              <b>{Math.round(part.contribution)}</b> {sayWord(part.component)}: {part.sentence}
            </li>
          ))}
      </ul>
    </details>
  );
}
