'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { whenOpened, whenSeen } from '@/components/ui/later';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { sayWith } from '@/components/ui/say-with';
import type { LabSettings } from '@/lib/bench/wire-lab';
import { countOf, say } from '@/lib/platform/words/say';
import classes from './lab.module.css';
import { labOptions } from './lab-queries';

const ScalesAndClocks = whenSeen(() => import('./lab-scales').then((module) => module.ScalesAndClocks), 12);
const References = whenSeen(() => import('./lab-references').then((module) => module.References), 8);
const StyleEditor = whenOpened(() => import('./style-editor').then((module) => module.StyleEditor), 8);

/** How this lab works at the bench: styles, scales, clocks, and the tables it compares with. */
export function LabPage() {
  const lab = useQuery(labOptions());
  return (
    <>
      <ListHead
        title={say('How this lab works')}
        intro={say(
          'Preparation styles are data: change their steps and products here. A record keeps the version that it was begun with.',
        )}
      />
      {lab.error ? (
        <ErrorState
          what={say('The settings could not be loaded.')}
          error={lab.error}
          onRetry={() => void lab.refetch()}
        />
      ) : lab.data === undefined ? (
        <Loading what={say('Loading the settings')} lines={6} />
      ) : (
        <>
          <Section id="styles" title={say('Styles')}>
            <Styles lab={lab.data} />
          </Section>
          <Section
            id="scales"
            title={say('Scales and clocks')}
            note={say('Used when a score is said without its scale, and for the clocks of the bench.')}
          >
            <ScalesAndClocks key={JSON.stringify([lab.data.scales, lab.data.clocks])} lab={lab.data} />
          </Section>
          <Section
            id="references"
            title={say('Reference tables')}
            note={say('Published means by species: measurements are held against the one loaded last.')}
          >
            <References lab={lab.data} />
          </Section>
        </>
      )}
    </>
  );
}

function Styles({ lab }: { lab: LabSettings }) {
  const [open, setOpen] = useState<string | null>(null);
  return (
    <ul className={classes.styles}>
      {lab.styles.map(({ style, savedAt, savedBy }) => (
        <li key={style.id}>
          <div className={classes.style}>
            <div>
              <b>{style.label}</b>
              <span className={classes.small}>
                {sayWith('version {version}, {of}{savedAt}', {
                  version: style.version,
                  of: countOf(style.steps.length, 'step'),
                  savedAt:
                    savedAt &&
                    sayWith(', saved by {savedBy} {moment}', { savedBy, moment: <Moment at={savedAt} /> }),
                })}
              </span>
            </div>
            <Button variant="default" onClick={() => setOpen(open === style.id ? null : style.id)}>
              {open === style.id ? say('Close') : lab.mayChange ? say('Change it') : say('Look at it')}
            </Button>
          </div>
          {open === style.id && (
            <StyleEditor
              key={style.version}
              style={style}
              mayChange={lab.mayChange}
              onSaved={() => setOpen(null)}
            />
          )}
        </li>
      ))}
    </ul>
  );
}
