/** The part of the engine's programmatic interface that the site uses; the package ships no types of its own. */
declare module "@11ty/eleventy" {
  export interface UserConfig {
    ignores: Set<string>;
    setUseGitIgnore(use: boolean): void;
    setTemplateFormats(formats: string[]): void;
    setQuietMode(quiet: boolean): void;
    setLibrary(extension: string, library: unknown): void;
    addGlobalData(name: string, value: unknown): void;
  }
  export default class Eleventy {
    constructor(
      input: string,
      output: string,
      options: {
        quietMode: boolean;
        /** False keeps the engine from looking for a configuration file in the current folder. */
        configPath: string | false;
        config: (userConfig: UserConfig) => void;
      },
    );
    disableLogger(): void;
    restart(): Promise<void>;
    init(): Promise<unknown>;
    write(): Promise<unknown>;
  }
}
