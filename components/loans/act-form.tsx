'use client';

import type { LoanAct } from '@/lib/loans/rules';
import { ExtendForm, PackForm, PlainForm, ReceiptForm, SendForm } from './act-forms';
import type { ActProps } from './act-panel';
import { SettleForm } from './settle-form';

/** The form of the act that was chosen. */
export function ActForm(props: ActProps & { act: LoanAct }) {
  switch (props.act) {
    case 'pack':
      return <PackForm {...props} />;
    case 'send':
      return <SendForm {...props} />;
    case 'confirm-receipt':
      return <ReceiptForm {...props} />;
    case 'take-back':
      return <SettleForm {...props} />;
    case 'extend':
      return <ExtendForm {...props} />;
    default:
      return <PlainForm {...props} act={props.act} />;
  }
}
