// The page of listening. What is heard in a recording, and every sentence, is made by the program.

import "./microphone.js";
import "./played.js";
import "./recording.js";
