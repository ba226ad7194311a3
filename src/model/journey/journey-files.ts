/* Where journeys stand: paths are relative to the data folder. */

/** The folder that is no facility: it holds the journeys over them. */
export const journeysFolder = "journeys";

/** The YAML file that describes a journey. */
export const journeyFile = (id: string): string => `${journeysFolder}/${id}.yaml`;

/** The folder of what was sent and seen. */
export const journeyTables = (id: string): string => `${journeysFolder}/${id}`;

/** What was sent: the one table that every journey has. */
export const runsFile = (id: string): string => `${journeyTables(id)}/runs.csv`;

export const sightingsFile = (id: string): string => `${journeyTables(id)}/sightings.csv`;
