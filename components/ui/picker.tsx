'use client';

import { type KeyboardEvent, useEffect, useId, useState } from 'react';
import { countOf, say } from '@/lib/platform/words/say';
import { type FieldWords, LabelledField } from './labelled-field';
import classes from './picker.module.css';
import { controlClass } from './plain-controls';

/**
 * Words in a field, with a list under it of what they may mean: WAI-ARIA's editable combobox with list autocomplete.
 * The focus stays in the field; the arrows walk, Enter takes what they came to and otherwise belongs to the form, Escape
 * closes the list. What is typed stays as it is when nothing is taken.
 */
export function Picker({
  value,
  options,
  onChange,
  ...words
}: FieldWords & {
  value: string;
  /** What the words may mean, best first, each once. */
  options: readonly string[];
  /** Is given what was typed, or an option as it stands in the list. */
  onChange: (value: string) => void;
}) {
  const own = useId();
  const [isWanted, setWanted] = useState(false);
  const [walkedTo, setWalkedTo] = useState<string | null>(null);
  const isOpen = isWanted && options.length > 0;
  const at = walkedTo === null ? -1 : options.indexOf(walkedTo);
  const optionId = (index: number) => `${own}-${index}`;
  const active = isOpen && at >= 0 ? optionId(at) : undefined;

  // Below the window's edge the list would open unseen.
  const shown = isOpen ? (active ?? `${own}-list`) : undefined;
  useEffect(() => {
    if (shown !== undefined) document.getElementById(shown)?.scrollIntoView({ block: 'nearest' });
  }, [shown]);

  const close = () => {
    setWanted(false);
    setWalkedTo(null);
  };
  const take = (option: string) => {
    close();
    onChange(option);
  };
  const walk = (step: 1 | -1) => {
    setWanted(true);
    const from = at < 0 && step < 0 ? options.length : at;
    setWalkedTo(options[(from + step + options.length) % options.length] ?? null);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.nativeEvent.isComposing || options.length === 0) return;
    const option = options[at];
    if (event.key === 'ArrowDown') walk(1);
    else if (event.key === 'ArrowUp') walk(-1);
    else if (event.key === 'Enter' && isOpen && option !== undefined) take(option);
    else if (event.key === 'Escape' && isOpen) close();
    else return;
    event.preventDefault();
  };

  return (
    <LabelledField {...words}>
      {(aria) => (
        <div className={classes.place}>
          <input
            {...aria}
            className={controlClass}
            type="text"
            role="combobox"
            autoComplete="off"
            aria-autocomplete="list"
            aria-expanded={isOpen}
            aria-controls={isOpen ? `${own}-list` : undefined}
            aria-activedescendant={active}
            value={value}
            onChange={(event) => {
              setWanted(true);
              setWalkedTo(null);
              onChange(event.currentTarget.value);
            }}
            onFocus={() => setWanted(true)}
            onClick={() => setWanted(true)}
            onBlur={close}
            onKeyDown={onKeyDown}
          />
          <span role="status" className="f-hidden">
            {isOpen
              ? say('{of}: choose with the arrows and Enter.', {
                  of: countOf(options.length, 'entry', 'entries'),
                })
              : ''}
          </span>
          {isOpen && (
            <div id={`${own}-list`} role="listbox" aria-label={words.label} className={classes.list}>
              {options.map((option, index) => (
                // biome-ignore lint/a11y/useKeyWithClickEvents: the keys are those of the field, where the focus stays
                <div
                  key={option}
                  id={optionId(index)}
                  role="option"
                  tabIndex={-1}
                  aria-selected={index === at}
                  className={classes.option}
                  onMouseDown={(event) => event.preventDefault()}
                  onClick={() => take(option)}
                >
                  {option}
                </div>
              ))}
            </div>
          )}
        </div>
      )}
    </LabelledField>
  );
}
