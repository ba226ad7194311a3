import { byCodePoint } from "../../model/order.ts";
import * as folder from "./folder.ts";
import * as passLog from "./pass-log.ts";
import type { ProblemCard } from "./problem.ts";
import * as readerLog from "./reader-log.ts";
import * as yaml from "./yaml.ts";

/** Every problem that the intake can report, by code. */
export const problemCards: readonly ProblemCard[] = [folder, yaml, passLog, readerLog]
  .flatMap((theme): ProblemCard[] => Object.values(theme))
  .sort((a, b) => byCodePoint(a.code, b.code));
