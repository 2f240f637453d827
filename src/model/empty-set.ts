/** How the empty set is given as a value. */
export const emptySet = "none";
