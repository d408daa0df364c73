//! The desk command: from a field book, a site package or a table of measurements to a base plan.

mod input;
mod pictures;
mod summary;

use clap::{Args, Parser, Subcommand};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use swingtie_core::exchange::{File, Options, PDF, csv, north_as_stated, outputs};
use swingtie_core::network::adjust;
use swingtie_core::place::{Position, Stated};
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::report::{self, Report};
use swingtie_core::sheet::{self, Colours};
use swingtie_core::units::Angle;

/// Turns a yard's tape readings into a to-scale base plan.
#[derive(Parser)]
#[command(name = "swingtie", version, arg_required_else_help = true)]
struct Command {
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand)]
enum What {
    /// Adjusts the readings and writes plan.svg, plan.pdf, plan.geojson, plan.fg.json, points.csv,
    /// adjustment.json, measurements.csv and report.html.
    ///
    /// Exit code 0 when the files were written, 2 with a message that names the line when not.
    Plan(PlanArguments),
    /// Explains the columns of a table of measurements.
    Columns,
}

#[derive(Args)]
struct PlanArguments {
    /// A field book (.jsonl), a site package (.zip) or a table of measurements (.csv).
    input: PathBuf,
    /// The folder to write into; made when it is not there.
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Latitude and longitude of the held point (the plan's origin: usually the first corner
    /// measured), decimal degrees in WGS 84. Counts in place of the book's anchor.
    #[arg(long, value_name = "LAT,LON", value_parser = position, allow_hyphen_values = true)]
    at: Option<Position>,
    /// True bearing of the held direction (the plan's x axis: usually the first wall measured),
    /// degrees clockwise from north. Counts in place of the book's north.
    #[arg(long, value_name = "DEG", value_parser = degrees, allow_hyphen_values = true)]
    north: Option<Angle>,
    /// Magnetic declination, degrees, east positive: makes the book's compass bearing a true one.
    #[arg(long, value_name = "DEG", value_parser = degrees, allow_hyphen_values = true)]
    declination: Option<Angle>,
    /// Draws the sheet in greys, for printers without colours.
    #[arg(long)]
    grey: bool,
    /// Leaves out lines of the book that cannot be read, instead of stopping.
    #[arg(long)]
    skip_damaged: bool,
}

/// Why nothing was written: one sentence a line.
type Failure = Vec<String>;

fn main() -> ExitCode {
    let outcome = match Command::parse().what {
        What::Plan(arguments) => plan(&arguments),
        What::Columns => Ok(csv::COLUMNS.to_owned()),
    };
    match outcome {
        // A reader that closed its end early (a pager) is no failure of ours.
        Ok(text) => {
            let _ = std::io::stdout().write_all(text.as_bytes());
            ExitCode::SUCCESS
        }
        Err(lines) => {
            for line in lines {
                let _ = writeln!(std::io::stderr(), "{line}");
            }
            ExitCode::from(2)
        }
    }
}

/// Reads, adjusts, writes; returns the summary.
fn plan(arguments: &PlanArguments) -> Result<String, Failure> {
    let read = input::read(&arguments.input, arguments.skip_damaged)?;
    let record = &read.fold.record;
    let adjustment = adjust(record);
    let plan = Plan::build(record, &adjustment);
    let place = Stated { at: arguments.at, north: arguments.north, declination: arguments.declination };
    let colours = if arguments.grey { Colours::Grey } else { Colours::Full };
    let options = Options { place, sheet: sheet::Options { colours, ..sheet::Options::default() } };
    let mut made = outputs(record, &adjustment, &plan, &options);
    let plan = north_as_stated(&plan, &options.place);
    let (pictures, missing) = pictures::of(record, read.package);
    let text = report::write(&Report {
        book: &read.book,
        fold: &read.fold,
        adjustment: &adjustment,
        plan: &plan,
        ground: &Ground::of(record, &plan),
        sheet: &options.sheet,
        pictures: &pictures.into_iter().collect(),
    });
    made.files.push(File { name: "report.html".into(), media_type: "text/html", text });
    std::fs::create_dir_all(&arguments.out)
        .map_err(|error| cannot("make the folder", &arguments.out, &error))?;
    let texts = made.files.iter().map(|file| (file.name.as_ref(), file.text.as_bytes()));
    let pdf = made.pdf.as_deref().map(|bytes| (PDF, bytes));
    let files: Vec<(&str, &[u8])> = texts.chain(pdf).collect();
    for (name, bytes) in &files {
        let path = arguments.out.join(name);
        std::fs::write(&path, bytes).map_err(|error| cannot("write", &path, &error))?;
    }
    let no_map = made.no_map.as_ref().map(|why| format!("plan.geojson was not written: {why}."));
    let no_pictures =
        (missing > 0).then(|| format!("Photos in report.html without their picture: {missing}."));
    let notices = read.notices.iter().chain(&made.notices).chain(&no_map).chain(&no_pictures);
    let names: Vec<&str> = files.iter().map(|(name, _)| *name).collect();
    Ok(summary::text(record, &adjustment, notices, &names, &arguments.out))
}

fn cannot(what: &str, path: &Path, error: &std::io::Error) -> Failure {
    vec![format!("cannot {what} {}: {error}", path.display())]
}

fn degrees(text: &str) -> Result<Angle, String> {
    match text.trim().parse::<f64>() {
        Ok(degrees) if degrees.abs() <= 360.0 => Ok(Angle::from_degrees(degrees)),
        _ => Err("write decimal degrees, such as 348.5".to_owned()),
    }
}

fn position(text: &str) -> Result<Position, String> {
    let numbers: Vec<f64> = text.split(',').filter_map(|part| part.trim().parse().ok()).collect();
    let position = match numbers.as_slice() {
        [latitude, longitude] if text.matches(',').count() == 1 => {
            Position::on_ellipsoid(*latitude, *longitude)
        }
        _ => {
            return Err(
                "write latitude, a comma and longitude in decimal degrees, such as 35.1,-97.2".to_owned()
            );
        }
    };
    if position.is_on_earth() {
        Ok(position)
    } else {
        Err("latitude goes from -90 to 90, longitude from -180 to 180".to_owned())
    }
}
