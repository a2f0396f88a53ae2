'use client';

import { Button } from '@mantine/core';
import { KeyCaps } from '@/components/ui/shortcuts/key-caps';
import { shortcutOf, shortcutsIn } from '@/components/ui/shortcuts/table';
import { DICTATION_HELP } from '@/lib/bench/dictation/help';
import { say } from '@/lib/platform/words/say';
import classes from './dictation.module.css';

const KEYS = [...shortcutsIn('bench'), ...shortcutsIn('dictation')];

/** What can be said, by subject, and the keys of the bench. */
export function DictationHelp({ onClose }: { onClose: () => void }) {
  return (
    <section className={classes.help} aria-label={say('What can be said')}>
      <div className={classes.helpHead}>
        <h2>{say('What can be said')}</h2>
        <Button variant="default" onClick={onClose}>
          {say('Close')}
        </Button>
      </div>
      <div className={classes.topics}>
        <div>
          <h3>{say('Keys')}</h3>
          <ul>
            {KEYS.map((id) => (
              <li key={id}>
                <KeyCaps id={id} /> {shortcutOf(id).does}
              </li>
            ))}
          </ul>
          <p>{say('Say “undo” to take your last change back, “step done” to mark the next step.')}</p>
          <p>
            {say(
              'Where the browser can listen, it may send what it hears to its maker’s service: use it only where your institution allows that. Local rules decide.',
            )}
          </p>
        </div>
        {DICTATION_HELP.map((topic) => (
          <div key={topic.title}>
            <h3>{topic.title}</h3>
            <p>{topic.text}</p>
            <ul>
              {topic.examples.map((example) => (
                <li key={example}>{example}</li>
              ))}
            </ul>
          </div>
        ))}
      </div>
    </section>
  );
}
