'use client';

import { Button, Text, Textarea } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { SaveState } from '@/components/ui/save-state';
import { StateBadge } from '@/components/ui/state-badge';
import { countOf } from '@/components/ui/words';
import { divideElement, joinElement, keyEntries, makeEntry, patchBook } from '@/lib/skeletons/rules/entries';
import { judgeBook } from '@/lib/skeletons/rules/verdict';
import { type BoneBook, type BoneEntry, boneEntrySchema } from '@/lib/skeletons/schema';
import { profileFor } from '@/lib/skeletons/taxa';
import classes from './bone-book-panel.module.css';
import { BoneCompleteness } from './bone-completeness';
import { BoneDrawing } from './bone-drawing';
import { BoneEditor } from './bone-editor';
import { BoneFindings } from './bone-findings';
import { BoneLegend } from './bone-legend';
import { BoneTable } from './bone-table';
import { BookConflict } from './book-conflict';
import { startBook } from './book-state';
import { boneBookOptions } from './queries';
import { SplitForm } from './split-form';
import { useBoneBook } from './use-bone-book';

/**
 * The bone book of a bird: which bone goes where, on the drawing and as a table, saved as one goes. Only to be read where
 * the server says so, or where the page does.
 */
export function BoneBookPanel({ birdId, readOnly = false }: { birdId: string; readOnly?: boolean }) {
  const query = useQuery(boneBookOptions(birdId));
  if (query.data === undefined) {
    return query.error ? (
      <ErrorState
        what="The bone book could not be loaded."
        error={query.error}
        onRetry={() => void query.refetch()}
      />
    ) : (
      <Loading what="Loading the bone book" lines={6} />
    );
  }
  return <BookDesk key={birdId} book={query.data} readOnly={readOnly} />;
}

/** The entry that a key of the drawing names: the book's own, or what the book is silent about. */
function entryAt(entries: readonly BoneEntry[], key: string | null): BoneEntry | null {
  if (key === null) return null;
  const own = keyEntries(entries).find((one) => one.key === key)?.entry;
  if (own !== undefined) return own;
  const [element, side, portion] = key.split('/');
  const named = boneEntrySchema.safeParse({ element, side, portion });
  return named.success
    ? makeEntry(named.data.element, named.data.side, { portion: named.data.portion })
    : null;
}

function BookDesk({ book, readOnly }: { book: BoneBook; readOnly: boolean }) {
  const { state, status, edit, undo, settle, sendAgain } = useBoneBook(book);
  const [selectedKey, setSelectedKey] = useState<string | null>(null);
  const { base, draft } = state;
  const { entries, explanation } = draft;
  const profile = profileFor(base.taxon);
  const verdict = judgeBook(entries, explanation, profile);
  const locked = readOnly || !base.abilities.write;
  const write = (next: BoneEntry[]) => edit({ entries: next });
  const selected = entryAt(entries, selectedKey);
  const drawn = {
    entries,
    profile,
    readOnly: locked,
    onChange: (key: string, patch: Parameters<typeof patchBook>[2]) => write(patchBook(entries, key, patch)),
  };
  return (
    <div className={classes.panel}>
      <div className={classes.head}>
        <Balance verdict={verdict} isEmpty={entries.length === 0} />
        {!locked && (
          <div className={classes.acts}>
            <SaveState status={status} />
            {status.kind === 'failed' && (
              <Button variant="default" onClick={sendAgain}>
                Try again
              </Button>
            )}
            <Button variant="default" disabled={state.past.length === 0} onClick={undo}>
              Undo
            </Button>
          </div>
        )}
      </div>
      <Notices state={state} locked={locked} readOnly={readOnly} />
      <BookConflict
        state={state}
        onSettle={settle}
        onTakeTheirs={() => state.conflict && settle(startBook(state.conflict.theirs).draft)}
      />
      <div className={classes.desk}>
        <div>
          <BoneDrawing {...drawn} selectedKey={selectedKey} onSelect={setSelectedKey} />
          <BoneLegend entries={entries} showKeys={!locked} />
        </div>
        <div className={classes.beside}>
          <section aria-label="The chosen bone">
            {selected === null ? (
              <Text size="sm">
                {locked
                  ? 'Press a bone to see where it is.'
                  : 'Press a bone to say where it goes. With the keyboard: Tab and the arrows lead from bone to bone, 1–8 set a place, 0 clears it, w, b and m say whole, broken, missing.'}
              </Text>
            ) : (
              <BoneEditor
                entry={selected}
                readOnly={locked}
                onPatch={(patch) => selectedKey && drawn.onChange(selectedKey, patch)}
                onDivide={() => {
                  if (selectedKey === null) return;
                  const known = keyEntries(entries).some(({ key }) => key === selectedKey);
                  write(divideElement(known ? entries : [...entries, selected], selectedKey));
                  setSelectedKey(selectedKey.replace('/whole', '/proximal'));
                }}
                onJoin={() => {
                  if (selectedKey === null) return;
                  write(joinElement(entries, selectedKey));
                  setSelectedKey(selectedKey.replace(/\/(proximal|distal)$/, '/whole'));
                }}
              />
            )}
          </section>
          {!locked && (
            <section aria-labelledby="usual-split">
              <h3 id="usual-split">Usual split</h3>
              <SplitForm book={base} entries={entries} profile={profile} onFill={write} />
            </section>
          )}
          <section aria-labelledby="bone-findings">
            <h3 id="bone-findings">What is open</h3>
            <BoneFindings
              findings={verdict.findings}
              isEmpty={entries.length === 0}
              onChoose={setSelectedKey}
            />
            {!verdict.balanced && entries.length > 0 && !locked && (
              <Textarea
                label="Why the book need not balance"
                description="Needed for approval as long as something is open."
                autosize
                minRows={2}
                maxLength={2000}
                value={explanation}
                onChange={(event) => edit({ explanation: event.currentTarget.value })}
              />
            )}
            {locked && explanation !== '' && <p>Explained: “{explanation}”</p>}
          </section>
        </div>
      </div>
      <div className={classes.more}>
        <section>
          <h3>In the skeleton</h3>
          <BoneCompleteness entries={entries} profile={profile} />
        </section>
        <AsTable>
          <BoneTable
            {...drawn}
            onDivide={(key) => write(divideElement(entries, key))}
            onJoin={(key) => write(joinElement(entries, key))}
          />
        </AsTable>
      </div>
    </div>
  );
}

function Balance({ verdict, isEmpty }: { verdict: ReturnType<typeof judgeBook>; isEmpty: boolean }) {
  const { balanced, accountedFor, findings, skeleton } = verdict;
  const open = findings.filter(({ weight }) => weight === 'stop').length;
  if (isEmpty) return <StateBadge tone="attention">The bone book is empty</StateBadge>;
  return (
    <div className={classes.acts}>
      {balanced ? (
        <StateBadge tone="settled">Every bone is somewhere, once</StateBadge>
      ) : (
        <StateBadge tone="attention">
          {open === 1 ? '1 bone is open' : `${open} bones are open`}
          {accountedFor && ', and explained'}
        </StateBadge>
      )}
      <span>
        {countOf(skeleton.present, 'element')} of {skeleton.expected} in the skeleton
      </span>
    </div>
  );
}

function Notices({
  state,
  locked,
  readOnly,
}: {
  state: ReturnType<typeof useBoneBook>['state'];
  locked: boolean;
  readOnly: boolean;
}) {
  return (
    <>
      {locked && !readOnly && state.base.lock !== null && <p>{state.base.lock}</p>}
      {state.lost > 0 && (
        <p role="alert">
          The book was closed while you wrote: {countOf(state.lost, 'element')} could not be saved. It shows
          what stands.
        </p>
      )}
      {state.takenIn > 0 && (
        <p role="status">Changes by somebody else were taken in; yours stand beside them.</p>
      )}
    </>
  );
}

/** The same content as the drawing; made only when it is opened, for it is long. */
function AsTable({ children }: { children: React.ReactNode }) {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>The book as a table</summary>
      {open && children}
    </details>
  );
}
