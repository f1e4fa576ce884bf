// Script only improves: every page works without it.
import { find } from "./find";
import { grids } from "./grid";
import { keys } from "./keys";
import { submits } from "./submit";

find();
grids();
keys();
submits();
