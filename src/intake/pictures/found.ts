import type { BesidesPicture, Picture } from "../../model/record/picture.ts";
import type { FullText } from "../problems/card/problem.ts";

/** A picture that can be shown, or why it cannot. */
export type FoundPicture = { picture: Picture; problem: null } | { picture: null; problem: FullText };

export const refused = (problem: FullText): FoundPicture => ({ picture: null, problem });

/** What a file holds besides its picture, in the order in which it is told. */
export type Besides = Set<BesidesPicture>;
