export { boneBookFindings, loadBoneBook, type StoredBook } from './book';
