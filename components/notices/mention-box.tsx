'use client';

import { Textarea } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type KeyboardEvent, useId, useLayoutEffect, useRef, useState } from 'react';
import { matchNames, type Named, nameBeingTyped } from '@/lib/notices/rules/mentions';
import { LONGEST_COMMENT, type Subject } from '@/lib/notices/schema';
import { countOf, say } from '@/lib/platform/words/say';
import classes from './comments.module.css';
import { readersOptions } from './queries';

/**
 * A text in which "@" offers the people who may read it. Arrows choose, Enter or Tab takes, Escape leaves the name as it
 * is typed; the focus stays in the text. What is typed says names; the caller keeps who was chosen.
 */
export function MentionBox({
  label,
  description,
  subject,
  value,
  onChange,
  onChoose,
}: {
  label: string;
  description?: string;
  subject: Subject;
  value: string;
  onChange: (value: string) => void;
  onChoose: (person: Named) => void;
}) {
  const box = useRef<HTMLTextAreaElement>(null);
  const id = useId();
  const [caret, setCaret] = useState(0);
  const [active, setActive] = useState(0);
  /** Where the "@" stands whose list was closed with Escape. */
  const [closedAt, setClosedAt] = useState<number | null>(null);
  /** Where the caret belongs after a name was put in; the text is changed by the caller first. */
  const moveTo = useRef<number | null>(null);
  const typing = nameBeingTyped(value, caret);
  const readers = useQuery(readersOptions(subject, typing !== null));
  const names =
    typing === null || typing.from === closedAt
      ? []
      : matchNames(readers.data?.people ?? [], typing.beginning);
  const current = Math.min(active, names.length - 1);
  const isOpen = names.length > 0;

  useLayoutEffect(() => {
    if (moveTo.current === null || box.current === null) return;
    box.current.setSelectionRange(moveTo.current, moveTo.current);
    moveTo.current = null;
  });

  const choose = (person: Named) => {
    if (typing === null) return;
    const before = `${value.slice(0, typing.from)}@${person.name} `;
    moveTo.current = before.length;
    setCaret(before.length);
    setActive(0);
    onChoose(person);
    onChange(before + value.slice(caret).replace(/^ /, ''));
    box.current?.focus();
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (!isOpen || event.nativeEvent.isComposing) return;
    const person = names[current];
    if (event.key === 'ArrowDown') setActive((current + 1) % names.length);
    else if (event.key === 'ArrowUp') setActive((current + names.length - 1) % names.length);
    else if ((event.key === 'Enter' || event.key === 'Tab') && !event.shiftKey && person !== undefined)
      choose(person);
    else if (event.key === 'Escape') setClosedAt(typing?.from ?? null);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <div className={classes.mentionBox}>
      <Textarea
        ref={box}
        label={label}
        description={description}
        rows={3}
        maxLength={LONGEST_COMMENT}
        value={value}
        aria-autocomplete="list"
        aria-haspopup="listbox"
        aria-controls={isOpen ? `${id}-people` : undefined}
        aria-activedescendant={isOpen ? `${id}-${current}` : undefined}
        onChange={(event) => {
          setCaret(event.currentTarget.selectionStart);
          setActive(0);
          setClosedAt(null);
          onChange(event.currentTarget.value);
        }}
        onSelect={(event) => setCaret(event.currentTarget.selectionStart)}
        onBlur={() => setClosedAt(typing?.from ?? null)}
        onKeyDown={onKeyDown}
      />
      <span role="status" className="f-hidden">
        {isOpen
          ? say('{of}: choose with the arrows and Enter.', { of: countOf(names.length, 'person', 'people') })
          : ''}
      </span>
      {isOpen ? (
        <div
          role="listbox"
          id={`${id}-people`}
          aria-label={say('Whom to mention')}
          className={classes.people}
        >
          {names.map((person, index) => (
            // biome-ignore lint/a11y/useKeyWithClickEvents: the keys are those of the text, where the focus stays
            <div
              key={person.id}
              id={`${id}-${index}`}
              role="option"
              tabIndex={-1}
              aria-selected={index === current}
              className={classes.person}
              onMouseDown={(event) => event.preventDefault()}
              onClick={() => choose(person)}
            >
              {person.name}
            </div>
          ))}
        </div>
      ) : null}
    </div>
  );
}
