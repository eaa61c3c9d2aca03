//! `jaconet preview`: shows covers on a page in the browser while they are written, until Ctrl-C. Nothing is written unless
//! `--out` says where.

use crate::cli::exit::Exit;
use crate::cli::flags::{CoverArgs, StoreArgs};
use crate::cli::say;
use crate::cli::store::{close, open};
use crate::preview::{PORT, PreviewOptions, preview};
use crate::watch::Wake;
use clap::Args;
use std::path::PathBuf;
use std::sync::mpsc::channel;

#[derive(Args)]
pub struct PreviewArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// Port of the page on this machine; if it is taken, the next free one. 0 takes any free port
    #[arg(long, value_name = "N", default_value_t = PORT)]
    pub port: u16,
    /// Also write the files of every build into this folder, as `watch` does [default: write nothing]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// A command that opens a file at a line, for the page to use: {file} and {line} in it are
    /// replaced
    #[arg(long, value_name = "COMMAND")]
    pub editor: Option<String>,
    #[command(flatten)]
    pub store: StoreArgs,
}

pub fn run(args: &PreviewArgs) -> Exit {
    let (sender, wakes) = channel();
    let stop = sender.clone();
    // Without a handler Ctrl-C ends the process all the same.
    let _ = ctrlc::set_handler(move || {
        let _ = stop.send(Wake::Stop);
    });
    let store = open(&args.store);
    let options = PreviewOptions {
        selection: args.covers.selection(args.out.as_deref()),
        port: args.port,
        writes: args.out.is_some(),
        editor: args.editor.clone(),
        store: store.clone(),
    };
    let ended = preview(options, (sender, wakes), say::out);
    close(store.as_ref());
    match ended {
        Ok(()) => Exit::Clean,
        Err((why, help)) => {
            say::stopped(&why, &help);
            Exit::Stopped
        }
    }
}
