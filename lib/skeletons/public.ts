export { boneImbalancesOf, findImbalances, loadBoneBook, type StoredBook } from './book';
