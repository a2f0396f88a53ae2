import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { type LoanLinkRequest, loanLinkMade, loanLinkPage, loanLinkRow } from '@/lib/loans/link-schema';
import type { LoanAct } from '@/lib/loans/rules';
import type {
  AskLoanRequest,
  BorrowerRequest,
  ChooseMaterialsRequest,
  DocumentsRequest,
  ExtendRequest,
  LoanActRequest,
  LoanKind,
  PackRequest,
  ReceiveRequest,
  SendRequest,
  SettleRequest,
} from '@/lib/loans/schema';
import { borrower, borrowers, type LoanListQuery, lendables, loanPage, loanRecord } from '@/lib/loans/wire';
import { callApi, queryString } from '@/lib/platform/api';

type LendableAsked = { q?: string; birds?: string; kind: LoanKind };

export const loanKeys = {
  all: ['loans'] as const,
  list: (query: LoanListQuery) => ['loans', 'list', query] as const,
  record: (id: string) => ['loans', 'record', id] as const,
  borrowers: ['loans', 'borrowers'] as const,
  links: (query: { size?: number; after?: string }) => ['loans', 'links', query] as const,
  // What lies on a shelf changes in storage, too.
  lendable: (query: LendableAsked) => ['loans', 'materials', 'storage', query] as const,
};

export const loanListOptions = (query: LoanListQuery) =>
  queryOptions({
    queryKey: loanKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/loans${queryString(query)}`, { schema: loanPage, signal }),
    placeholderData: (previous) => previous,
  });

export const loanOptions = (id: string) =>
  queryOptions({
    queryKey: loanKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/loans/${id}`, { schema: loanRecord, signal }),
  });

export const borrowersOptions = () =>
  queryOptions({
    queryKey: loanKeys.borrowers,
    queryFn: ({ signal }) => callApi('/api/loans/borrowers', { schema: borrowers, signal }),
  });

/** @param query words, or birds parted by commas; nothing is asked while both are missing */
export const lendableOptions = (query: LendableAsked) =>
  queryOptions({
    queryKey: loanKeys.lendable(query),
    queryFn: ({ signal }) =>
      callApi(`/api/loans/materials${queryString(query)}`, { schema: lendables, signal }),
    enabled: Boolean(query.q) || Boolean(query.birds),
  });

export function useAskLoan() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ key, ...body }: AskLoanRequest & { key: string }) =>
      callApi('/api/loans', { method: 'POST', body, schema: loanRecord, idempotencyKey: key }),
    onSuccess: () => queries.invalidateQueries({ queryKey: loanKeys.all }),
  });
}

export const linksOptions = (query: { size?: number; after?: string }) =>
  queryOptions({
    queryKey: loanKeys.links(query),
    queryFn: ({ signal }) =>
      callApi(`/api/loans/links${queryString(query)}`, { schema: loanLinkPage, signal }),
    placeholderData: (previous) => previous,
  });

export function useMakeLink() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: LoanLinkRequest) =>
      callApi('/api/loans/links', { method: 'POST', body, schema: loanLinkMade }),
    onSuccess: () => queries.invalidateQueries({ queryKey: ['loans', 'links'] }),
  });
}

export function useEndLink() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (id: string) =>
      callApi(`/api/loans/links/${id}/end`, { method: 'POST', body: {}, schema: loanLinkRow }),
    onSettled: () => queries.invalidateQueries({ queryKey: ['loans', 'links'] }),
  });
}

export function useChooseMaterials(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: ChooseMaterialsRequest) =>
      callApi(`/api/loans/${id}/materials`, { method: 'POST', body, schema: loanRecord }),
    onSuccess: (record) => queries.setQueryData(loanKeys.record(id), record),
    // A refusal may mean that somebody else acted: the page should show the loan as it is.
    onError: () => queries.invalidateQueries({ queryKey: loanKeys.record(id) }),
  });
}

export function useAddBorrower() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: BorrowerRequest) =>
      callApi('/api/loans/borrowers', { method: 'POST', body, schema: borrower }),
    onSuccess: () => queries.invalidateQueries({ queryKey: loanKeys.borrowers }),
  });
}

/** The last word of the address of each act. */
const ADDRESS: Record<LoanAct, string> = {
  'take-into-review': 'review',
  grant: 'grant',
  decline: 'decline',
  withdraw: 'withdraw',
  pack: 'pack',
  unpack: 'unpack',
  send: 'send',
  'confirm-receipt': 'receive',
  'take-back': 'settle',
  extend: 'extend',
  close: 'close',
};

type Plain = 'take-into-review' | 'grant' | 'decline' | 'withdraw' | 'unpack' | 'close';
export type LoanCommand =
  | { act: Plain; body: LoanActRequest }
  | { act: 'pack'; body: PackRequest }
  | { act: 'send'; body: SendRequest }
  | { act: 'confirm-receipt'; body: ReceiveRequest }
  | { act: 'take-back'; body: SettleRequest }
  | { act: 'extend'; body: ExtendRequest }
  | { act: 'documents'; body: DocumentsRequest };

/** Any act on a loan; the answer is the loan as it then is. */
export function useLoanAct(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, body }: LoanCommand) =>
      callApi(`/api/loans/${id}/${act === 'documents' ? act : ADDRESS[act]}`, {
        method: 'POST',
        body,
        schema: loanRecord,
      }),
    onSuccess: (record) => queries.setQueryData(loanKeys.record(id), record),
    // A refusal may mean that somebody else acted: the page should show the loan as it is.
    onError: () => queries.invalidateQueries({ queryKey: loanKeys.record(id) }),
  });
}
