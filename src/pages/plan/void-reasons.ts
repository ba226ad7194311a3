/** The reasons for a void pass that are offered; any other may be written. */
export const voidReasons = ["Not walked as planned", "Load slipped", "Reader was not running", "Aborted"];
