'use client';

import { TextInput } from '@mantine/core';
import { useDebouncedValue, useMediaQuery } from '@mantine/hooks';
import { IconSearch } from '@tabler/icons-react';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { type KeyboardEvent, useEffect, useId, useMemo, useState } from 'react';
import { findOptions } from '@/components/catalogue/queries';
import { Dialog } from '@/components/ui/dialog';
import { TaxonName } from '@/components/ui/taxon-name';
import { placesOf } from '@/lib/desk/places';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import {
  type CommandActor,
  type Entry,
  entriesFor,
  type Finds,
  type Hit,
  looksLikeNumber,
} from './command-entries';
import classes from './command-menu.module.css';

const WAIT_MS = 150;
const SHORTEST_SEARCH = 2;
const NO_HITS: Hit[] = [];

type MenuProps = {
  actor: Pick<CommandActor, 'personId' | 'roles'>;
  finds: Finds;
  opened: boolean;
  onClose: () => void;
};

/** One box for everything: a number opens its bird, a word finds pages, tasks and birds; by keyboard alone if wanted. */
export function CommandMenu({ opened, onClose, ...offer }: MenuProps) {
  const small = useMediaQuery('(max-width: 48em)', false) ?? false;
  return (
    <Dialog opened={opened} onClose={onClose} title={say('Find, go, begin')} width={640} fullScreen={small}>
      <Menu {...offer} onClose={onClose} />
    </Dialog>
  );
}

function Menu({ actor, finds, onClose }: Omit<MenuProps, 'opened'>) {
  const router = useRouter();
  const queries = useQueryClient();
  const id = useId();
  const places = useMemo(() => placesOf(actor), [actor]);
  const [text, setText] = useState('');
  const [walkedTo, setWalkedTo] = useState<string | null>(null);
  const typed = text.trim();
  const [asked] = useDebouncedValue(typed, WAIT_MS);
  const searches = finds !== 'nothing' && typed.length >= SHORTEST_SEARCH;
  const find = useQuery({ ...findOptions(asked), enabled: searches && asked.length >= SHORTEST_SEARCH });
  const groups = entriesFor(text, { places, finds, hits: searches ? (find.data?.hits ?? NO_HITS) : NO_HITS });
  const entries = groups.flatMap((group) => group.entries);
  const active = entries.find(({ key }) => key === walkedTo) ?? entries[0];
  const idOf = ({ key }: Entry) => `${id}-${key}`;

  const activeId = active === undefined ? undefined : idOf(active);
  useEffect(() => {
    if (activeId !== undefined) document.getElementById(activeId)?.scrollIntoView({ block: 'nearest' });
  }, [activeId]);

  const open = (entry: Entry | undefined) => {
    if (entry === undefined) return;
    onClose();
    router.push(entry.href);
  };
  /** Whether what is shown answers an earlier text, so that the first entry may not be the one that was meant. */
  const isBehind = searches && (asked !== typed || find.isPlaceholderData || find.isFetching);
  const enter = async () => {
    if (walkedTo !== null || !isBehind || (entries[0]?.kind === 'place' && !looksLikeNumber(typed))) {
      open(active);
      return;
    }
    const { queryKey, queryFn } = findOptions(typed);
    const answer = await queries.fetchQuery({ queryKey, queryFn }).catch(() => ({ hits: NO_HITS }));
    open(entriesFor(text, { places, finds, hits: answer.hits })[0]?.entries[0]);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.nativeEvent.isComposing) return;
    const at = active === undefined ? -1 : entries.indexOf(active);
    const walk = (to: number) => setWalkedTo(entries.at(to % entries.length)?.key ?? null);
    if (event.key === 'ArrowDown') walk(at + 1);
    else if (event.key === 'ArrowUp') walk(at - 1);
    else if (event.key === 'Enter') void enter();
    else return;
    event.preventDefault();
  };

  return (
    <>
      <TextInput
        data-autofocus
        size="md"
        aria-label={say('A number, a name, a page, a task')}
        placeholder={say('A number, a name, a page, a task')}
        type="text"
        autoComplete="off"
        spellCheck={false}
        role="combobox"
        aria-expanded={entries.length > 0}
        aria-autocomplete="list"
        aria-controls={`${id}-list`}
        aria-activedescendant={activeId}
        leftSection={<IconSearch size={18} stroke={1.5} aria-hidden="true" />}
        value={text}
        onChange={(event) => {
          setText(event.currentTarget.value);
          setWalkedTo(null);
        }}
        onKeyDown={onKeyDown}
      />
      <p role="status" className="f-hidden">
        {say('{of}: choose with the arrows and Enter.', { of: countOf(entries.length, 'entry', 'entries') })}
      </p>
      <div id={`${id}-list`} role="listbox" aria-label={say('What there is')} className={classes.list}>
        {groups.map((group) => (
          // biome-ignore lint/a11y/useSemanticElements: a group of options
          <div key={group.title} role="group" aria-label={group.title}>
            <p className={classes.title} aria-hidden="true">
              {group.title}
            </p>
            {group.entries.map((entry) => (
              // biome-ignore lint/a11y/useKeyWithClickEvents: the keys are those of the text, where the focus stays
              <div
                key={entry.key}
                id={idOf(entry)}
                role="option"
                tabIndex={-1}
                aria-selected={entry === active}
                className={classes.entry}
                onMouseDown={(event) => event.preventDefault()}
                onClick={() => open(entry)}
              >
                <EntryWords entry={entry} />
              </div>
            ))}
          </div>
        ))}
      </div>
      {entries.length === 0 && <p className={classes.none}>{say('Nothing is called that here.')}</p>}
    </>
  );
}

function EntryWords({ entry }: { entry: Entry }) {
  if (entry.kind === 'place') return entry.place.label;
  if (entry.kind === 'search') return say('Search the catalogue for “{text}”', { text: entry.text });
  const { hit } = entry;
  return (
    <>
      <b>{hit.catalogueNumber ?? hit.number}</b>{' '}
      <TaxonName scientific={hit.scientificName} common={hit.commonName} />,{' '}
      {sayWord(hit.stage).toLowerCase()}
    </>
  );
}
