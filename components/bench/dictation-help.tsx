'use client';

import { Button } from '@mantine/core';
import { DICTATION_HELP } from '@/lib/bench/dictation/help';
import classes from './dictation.module.css';

/** What can be said, by subject, and the keys of the bench. */
export function DictationHelp({ onClose }: { onClose: () => void }) {
  return (
    <section className={classes.help} aria-label="What can be said">
      <div className={classes.helpHead}>
        <h2>What can be said</h2>
        <Button variant="default" onClick={onClose}>
          Close
        </Button>
      </div>
      <div className={classes.topics}>
        <div>
          <h3>Keys</h3>
          <p>
            <kbd>F2</kbd> comes to this line from anywhere; <kbd>Enter</kbd> writes what was understood;{' '}
            <kbd>→</kbd> at the end of the line takes what is offered; <kbd>↑</kbd> brings an earlier line
            back. In a field <kbd>Enter</kbd> writes it and goes to the next, <kbd>Esc</kbd> leaves it as it
            was. Say “undo” to take your last change back, “step done” to mark the next step.
          </p>
          <p>
            Where the browser can listen, it may send what it hears to its maker’s service: use it only where
            your institution allows that. Local rules decide.
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
