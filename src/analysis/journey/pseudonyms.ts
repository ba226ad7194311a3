import type { Party } from "../../model/facility.ts";
import type { JourneyInput } from "../../model/journey/journey.ts";
import { byCodePoint } from "../../model/order.ts";
import { isPlaceholder } from "../../model/placeholders.ts";
import { badgeKey, everyText, initials, numbers, textReplacer, withoutBadges } from "../pseudonyms.ts";

/** The same input with initials for the names of people and numbers for the tags of carriers: no figure changes. */
export function pseudonymisedJourney(input: JourneyInput): JourneyInput {
  const { journey, rows, tags } = input;
  const parties = [...(journey.preparedBy === null ? [] : [journey.preparedBy]), ...journey.witnessedBy];
  const firms = [journey.client, ...parties.map(({ organisation }) => organisation)];
  const people = parties
    .map(({ name }) => name.trim())
    .filter((name) => name !== "" && !firms.includes(name) && !isPlaceholder(name));
  const free = textReplacer(initials([...new Set(people)].sort(byCodePoint)));
  const person = (text: string) => (isPlaceholder(text) ? text : free(text));
  const party = (one: Party): Party => ({ ...one, name: person(one.name) });
  const carriers = new Set(rows.flatMap(({ carrier }) => (carrier < 0 ? [] : [carrier])));
  const keys = [...new Set([...carriers].map((tag) => badgeKey(tags[tag]!)))].sort(byCodePoint);
  const badges = numbers(keys);
  const inText = (text: string) => free(badges.size === 0 ? text : withoutBadges(text, badges));
  const orNull = (text: string | null) => (text === null ? null : inText(text));
  return {
    ...input,
    journey: {
      ...journey,
      preparedBy: journey.preparedBy === null ? null : party(journey.preparedBy),
      witnessedBy: journey.witnessedBy.map(party),
      rounds: everyText(journey.rounds, inText),
      criteria: journey.criteria.map((criterion) => ({ ...criterion, title: inText(criterion.title) })),
    },
    rows: rows.map((row) => ({ ...row, voidReason: orNull(row.voidReason), note: orNull(row.note) })),
    tags: tags.map((tag, number) => (carriers.has(number) ? badges.get(badgeKey(tag))! : tag)),
    problems: input.problems.map((problem) => everyText(problem, inText)),
  };
}
