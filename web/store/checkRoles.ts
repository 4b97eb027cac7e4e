import type { FileRole } from './project.js';

/** What is held against the filters, or beside what is; it says nothing of how they should be. */
const FOR_CHECKING: readonly FileRole[] = ['after', 'before', 'other', 'promised'];

/** Whether the design depends on a file, so that it is fitted anew where that comes, goes or changes. */
export const decides = ({ role }: { readonly role: FileRole }): boolean => !FOR_CHECKING.includes(role);
