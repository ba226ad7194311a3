/** The folder of the data folder that is no facility: it holds the journeys over them. */
export const journeysFolder = "journeys";
