#!/usr/bin/env node
import { CompiledProgram, mainFile, setEngineOptions } from "./compiled-program.ts";

setEngineOptions();
new CompiledProgram().load(mainFile);
