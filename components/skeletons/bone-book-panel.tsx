'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type ReactNode, useMemo, useState } from 'react';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { SaveState } from '@/components/ui/save-state';
import { say } from '@/lib/platform/words/say';
import { divideElement, joinElement, patchBook } from '@/lib/skeletons/rules/entries';
import { judgeBook } from '@/lib/skeletons/rules/verdict';
import type { BoneBook, BoneEntry, BonePatch } from '@/lib/skeletons/schema';
import { profileFor } from '@/lib/skeletons/taxa';
import classes from './bone-book-panel.module.css';
import { BoneCompleteness } from './bone-completeness';
import { BoneDrawing } from './bone-drawing';
import { BoneLegend } from './bone-legend';
import { BoneTable } from './bone-table';
import { BookConflict } from './book-conflict';
import { startBook } from './book-state';
import { Balance, BookNotices } from './book-status';
import { ChosenBone } from './chosen-bone';
import { OpenBones } from './open-bones';
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
        what={say('The bone book could not be loaded.')}
        error={query.error}
        onRetry={() => void query.refetch()}
      />
    ) : (
      <Loading what={say('Loading the bone book')} lines={6} />
    );
  }
  return <BookDesk key={birdId} book={query.data} readOnly={readOnly} />;
}

function BookDesk({ book, readOnly }: { book: BoneBook; readOnly: boolean }) {
  const { state, status, edit, undo, settle, sendAgain } = useBoneBook(book);
  const [selectedKey, setSelectedKey] = useState<string | null>(null);
  const { base, draft } = state;
  const { entries, explanation } = draft;
  const { order, family, genus, species } = base.taxon;
  const profile = useMemo(
    () => profileFor({ order, family, genus, species }),
    [order, family, genus, species],
  );
  const verdict = judgeBook(entries, explanation, profile);
  const locked = readOnly || !base.abilities.write;
  const write = (next: BoneEntry[]) => edit({ entries: next });
  const drawn = {
    entries,
    profile,
    readOnly: locked,
    onChange: (key: string, patch: BonePatch) => write(patchBook(entries, key, patch)),
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
                {say('Try again')}
              </Button>
            )}
            <Button variant="default" disabled={state.past.length === 0} onClick={undo}>
              {say('Undo')}
            </Button>
          </div>
        )}
      </div>
      <BookNotices state={state} lock={readOnly ? null : base.lock} />
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
          <ChosenBone
            entries={entries}
            chosenKey={selectedKey}
            readOnly={locked}
            onChange={drawn.onChange}
            onWrite={(next, key) => {
              write(next);
              setSelectedKey(key);
            }}
          />
          <OpenBones
            verdict={verdict}
            isEmpty={entries.length === 0}
            explanation={explanation}
            readOnly={locked}
            onChoose={setSelectedKey}
            onExplain={(words) => edit({ explanation: words })}
          />
        </div>
        {!locked && (
          <section aria-labelledby="usual-split">
            <h3 id="usual-split">{say('Usual split')}</h3>
            <SplitForm book={base} entries={entries} profile={profile} onFill={write} />
          </section>
        )}
      </div>
      <div className={classes.more}>
        <section>
          <h3>{say('In the skeleton')}</h3>
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

/** The same content as the drawing; made only when it is opened, for it is long. */
function AsTable({ children }: { children: ReactNode }) {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{say('The book as a table')}</summary>
      {open && children}
    </details>
  );
}
