/**
 * The cards of one kind, known by their ids: measures, intervals, forms of a log. Whoever needs something of a card asks the
 * registry, so that adding a card is one file and one line.
 */
export class Registry<Card extends { readonly id: string }> {
  readonly #cards: Card[] = [];

  constructor(cards: readonly Card[]) {
    for (const card of cards) this.add(card);
  }

  /** In the order in which they were listed. */
  all(): readonly Card[] {
    return this.#cards;
  }

  ids(): string[] {
    return this.#cards.map(({ id }) => id);
  }

  find(id: string): Card | null {
    return this.#cards.find((card) => card.id === id) ?? null;
  }

  /** For an id that was checked before; throws on an unknown one. */
  get(id: string): Card {
    const card = this.find(id);
    if (card === null) throw new Error(`No card "${id}" among ${this.ids().join(", ")}`);
    return card;
  }

  /** Adds a card at the end; what is returned takes it out again. Throws where the id is taken. */
  add(card: Card): () => void {
    if (this.find(card.id) !== null) throw new Error(`A card "${card.id}" is there already`);
    this.#cards.push(card);
    return () => {
      const at = this.#cards.indexOf(card);
      if (at !== -1) this.#cards.splice(at, 1);
    };
  }
}
