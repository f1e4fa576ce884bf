// Script of the pages that listen.
import { heard } from "./heard";
import { live } from "./live";
import { upload } from "./upload";

heard();
live();
upload();
