import type { ReactNode } from 'react';
import { say } from '@/lib/platform/words/say';
import type { Tone } from './colours';
import classes from './reasons.module.css';
import { ToneIcon } from './tone-icon';

export type Reason = {
  id: string;
  tone: Tone;
  text: ReactNode;
  /** The clause of the permit it comes from: 'Condition 4 of permit SB-114'. */
  clause?: string;
  clauseHref?: string;
  /** The published rule: '50 CFR 21.12(b)(4)'. */
  citation?: string;
  citationHref?: string;
  /** Recalled and not yet confirmed by an officer. */
  unverified?: boolean;
};

function Cited({ words, href }: { words: string; href?: string }) {
  return <span>{href ? <a href={href}>{words}</a> : words}</span>;
}

function ReasonLine({ reason }: { reason: Reason }) {
  const cites = [
    reason.clause && <Cited key="clause" words={reason.clause} href={reason.clauseHref} />,
    reason.citation && <Cited key="citation" words={reason.citation} href={reason.citationHref} />,
    reason.unverified && (
      <span key="unverified">{say('unverified: to be confirmed by a permit officer')}</span>
    ),
  ].filter(Boolean);
  return (
    <li className={classes.reason} data-tone={reason.tone}>
      <ToneIcon tone={reason.tone} />
      <div>
        <div>{reason.text}</div>
        {cites.length > 0 && <div className={classes.cites}>{cites}</div>}
      </div>
    </li>
  );
}

/** A verdict and all its reasons, each with the clause and the rule it rests on, and who has the last word. */
export function Reasons({
  tone,
  verdict,
  reasons,
  closing = say('This informs, it is no legal advice: the issuing office and local rules decide.'),
}: {
  tone: Tone;
  verdict: string;
  reasons: readonly Reason[];
  closing?: string | null;
}) {
  return (
    <div className={classes.verdict}>
      <p className={classes.word} data-tone={tone}>
        <ToneIcon tone={tone} size={24} />
        {verdict}
      </p>
      {reasons.length > 0 && (
        <ul className={classes.reasons}>
          {reasons.map((reason) => (
            <ReasonLine key={reason.id} reason={reason} />
          ))}
        </ul>
      )}
      {closing && <p className={classes.closing}>{closing}</p>}
    </div>
  );
}
