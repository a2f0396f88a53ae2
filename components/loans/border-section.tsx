'use client';

import { Button, Checkbox, Stack, TextInput } from '@mantine/core';
import { useState } from 'react';
import { CautionCard } from '@/components/ui/caution-card';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { Reasons } from '@/components/ui/reasons';
import type { ParcelFacts } from '@/lib/loans/schema';
import type { LoanRecord } from '@/lib/loans/wire';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import { ActPanel } from './act-panel';
import classes from './loans.module.css';

/** The papers that the borders of a parcel ask for: by which rule, which are there, which are missing. */
export function BorderSection({ loan, mayChange }: { loan: LoanRecord; mayChange: boolean }) {
  const [open, setOpen] = useState(false);
  const { border } = loan;
  const isMissing = border.missing.length > 0;
  return (
    <Section
      id="papers"
      title={say('Papers of the parcel')}
      note={`${border.parcel.fromCountry ?? say('country not set')} → ${border.parcel.toCountry}`}
      acts={
        mayChange && !open ? (
          <Button variant="default" onClick={() => setOpen(true)}>
            {border.isProposed ? say('Say what the parcel is') : say('Change the papers')}
          </Button>
        ) : null
      }
    >
      <Reasons
        tone={isMissing ? 'attention' : 'settled'}
        verdict={
          isMissing
            ? say('Papers are missing')
            : border.documents.length === 0
              ? say('No paper is known to be needed')
              : say('{of} there', { of: countOf(border.documents.length, 'paper') })
        }
        reasons={[
          ...border.documents.map((rule) => {
            const reference = border.there.find(({ ruleId }) => ruleId === rule.id)?.reference;
            return {
              id: rule.id,
              tone: reference === undefined ? ('attention' as const) : ('settled' as const),
              text: (
                <>
                  <b>{rule.document}</b>: {reference ?? say('not there yet')}. {rule.detail}
                </>
              ),
              citation: rule.citation,
              unverified: !rule.verified,
            };
          }),
          ...border.unknown.map((text) => ({ id: text, tone: 'neutral' as const, text })),
        ]}
        closing={null}
      />
      {open ? <DocumentsForm loan={loan} onDone={() => setOpen(false)} /> : null}
      <CautionCard
        title={say('This list informs')}
        source={say('the rules named beside each paper')}
        closing=""
      >
        {border.caution}
      </CautionCard>
    </Section>
  );
}

const YES_OR_NO: { name: keyof ParcelFacts; label: string }[] = phrases([
  { name: 'anyCitesListed', label: 'A species listed by CITES is in it' },
  { name: 'bothRegisteredWithCites', label: 'Both institutions are registered with CITES' },
  { name: 'anyMigratoryBirdAct', label: 'A bird of the US list of 50 CFR 10.13 is in it' },
  { name: 'anyWildBirdOfEu', label: 'A wild bird of the European Union’s territory is in it' },
  { name: 'anyTissue', label: 'Tissue is in it' },
]);

function DocumentsForm({ loan, onDone }: { loan: LoanRecord; onDone: () => void }) {
  const { border } = loan;
  const [parcel, setParcel] = useState<ParcelFacts>({
    ...border.parcel,
    fromCountry: border.parcel.fromCountry ?? '',
  });
  const [origins, setOrigins] = useState(parcel.originCountries.join(', '));
  const [references, setReferences] = useState<Record<string, string>>(
    Object.fromEntries(border.there.map(({ ruleId, reference }) => [ruleId, reference])),
  );
  const country = (name: 'fromCountry' | 'toCountry', label: string) => (
    <TextInput
      id={fieldId(`parcel.${name}`)}
      label={label}
      value={parcel[name]}
      maxLength={2}
      onChange={(event) => setParcel({ ...parcel, [name]: event.currentTarget.value.toUpperCase() })}
    />
  );
  return (
    <ActPanel
      loan={loan}
      title={say('What the parcel is, and its papers')}
      confirm={say('Keep this')}
      command={() => ({
        act: 'documents',
        body: {
          version: loan.version,
          parcel: {
            ...parcel,
            originCountries: origins
              .toUpperCase()
              .split(/[\s,;]+/)
              .filter((text) => text !== ''),
          },
          documents: border.documents.flatMap(({ id, document }) => {
            const reference = references[id]?.trim();
            return reference ? [{ ruleId: id, document, reference }] : [];
          }),
        },
      })}
      onDone={onDone}
    >
      <div className={classes.row}>
        {country('fromCountry', say('From, two letters'))}
        {country('toCountry', say('To, two letters'))}
        <TextInput
          id={fieldId('parcel.originCountries')}
          label={say('Countries where the birds were found')}
          value={origins}
          onChange={(event) => setOrigins(event.currentTarget.value)}
        />
      </div>
      <Stack gap="xs">
        {YES_OR_NO.map(({ name, label }) => (
          <Checkbox
            key={name}
            label={label}
            checked={parcel[name] === true}
            onChange={(event) => setParcel({ ...parcel, [name]: event.currentTarget.checked })}
          />
        ))}
      </Stack>
      {border.documents.map(({ id, document }) => (
        <TextInput
          key={id}
          label={document}
          description={say('Number of the paper, or why this parcel does not need it.')}
          value={references[id] ?? ''}
          onChange={(event) => setReferences({ ...references, [id]: event.currentTarget.value })}
        />
      ))}
    </ActPanel>
  );
}
