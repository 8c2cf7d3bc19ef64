//! Berth over HTTP and as one command: the only crate that knows HTTP. It holds no geometry and keeps
//! no state: a request comes in, one answer goes out, and nothing is left behind.
//!
//! | file | one concern |
//! | --- | --- |
//! | `router` | the table of all paths, and the layers around them |
//! | `handlers` | one file a resource |
//! | `accept`, `body`, `filename` | what HTTP says: which representation, which JSON, which name |
//! | `jobs` | computing: how many at once, how long, and when to stop |
//! | `answer` | what came of a request, as a response |
//! | `problem` | every error, mapped in one place (RFC 9457) |
//! | `examples` | requests that work |
//! | `layers` | ids, the log, and headers that are always there |
//! | `openapi` | the document, closed so that it accepts what the server accepts |
//! | `serve` | sockets, timeouts, stopping |
//! | `cli` | the commands |

pub mod accept;
pub mod answer;
pub mod app;
pub mod body;
pub mod cli;
pub mod examples;
pub mod filename;
pub mod form;
pub mod handlers;
pub mod jobs;
pub mod layers;
pub mod openapi;
pub mod problem;
pub mod router;
pub mod serve;
