export { boneBookFindings, loadAccounts, loadBoneBook, type StoredBook } from './book';
