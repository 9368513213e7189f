//! `season-burns.csv` grows row by row beside its name and is put in place at the end; `season-layer.csv` is written whole.

use crate::output::error::OutputError;
use crate::output::table_csv::number;
use crate::results::{LayerCell, SeasonBurn};
use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

/// All burns, without cleaning and with.
pub const BURNS: &str = "season-burns.csv";
/// The same while burns are added.
const PARTIAL: &str = "season-burns.partial.csv";
/// The layer after the season without cleaning.
pub const LAYER: &str = "season-layer.csv";

const HEAD: &str = "season,burn,burnt_in_full,coil_cleaned,flue_swept,target_reached,time_s,wood_kg,extra_time_s,extra_wood_kg,\
coil_deposit_kg,wall_deposit_kg,coil_fouling_m2K_W,coil_layer_m,flue_layer_m";
const LAYER_HEAD: &str = "surface,cell,area_m2,soot_kg,tar_kg,thickness_m,thickness_low_m,thickness_high_m,surface_bare_K,\
surface_last_K,wet_share,tar_share,kind,kind_low,kind_high";

/// Rows under way.
pub struct BurnTable {
    dir: PathBuf,
    file: File,
}

impl BurnTable {
    /// Begins the table in a folder that exists.
    ///
    /// # Errors
    /// [`OutputError::File`].
    pub fn begin(dir: &Path) -> Result<Self, OutputError> {
        let path = dir.join(PARTIAL);
        let mut file = File::create(&path).map_err(OutputError::at("write", &path))?;
        file.write_all(format!("{HEAD}\n").as_bytes())
            .map_err(OutputError::at("write", &path))?;
        Ok(Self {
            dir: dir.to_path_buf(),
            file,
        })
    }

    /// One burn, in one write.
    ///
    /// # Errors
    /// [`OutputError::File`].
    pub fn add(&mut self, season: &str, b: &SeasonBurn) -> Result<(), OutputError> {
        let flags = [b.burnt, b.coil_cleaned, b.flue_swept, b.target_reached]
            .map(|f| if f { "1" } else { "0" })
            .join(",");
        let numbers = [
            b.time_s,
            b.wood_kg,
            b.extra_time_s,
            b.extra_wood_kg,
            b.coil_deposit_kg,
            b.wall_deposit_kg,
            b.coil_fouling_m2K_W,
            b.coil_layer_m,
            b.flue_layer_m,
        ]
        .map(number)
        .join(",");
        self.file
            .write_all(format!("{season},{},{flags},{numbers}\n", b.burn).as_bytes())
            .map_err(OutputError::at("write", &self.dir.join(PARTIAL)))
    }

    /// Puts the table in place.
    ///
    /// # Errors
    /// [`OutputError::File`].
    pub fn finish(self) -> Result<(), OutputError> {
        let (from, to) = (self.dir.join(PARTIAL), self.dir.join(BURNS));
        self.file
            .sync_all()
            .map_err(OutputError::at("write", &from))?;
        fs::rename(&from, &to).map_err(OutputError::at("rename to", &to))
    }
}

/// The layer's table.
///
/// # Errors
/// What the CSV writer reports.
pub fn layer_csv(cells: &[LayerCell]) -> Result<Vec<u8>, csv::Error> {
    let mut out = csv::WriterBuilder::new()
        .terminator(csv::Terminator::Any(b'\n'))
        .from_writer(Vec::new());
    out.write_record(LAYER_HEAD.split(','))?;
    for c in cells {
        let mut row = vec![c.surface.clone(), c.cell.to_string()];
        row.extend(
            [
                c.area_m2,
                c.soot_kg,
                c.tar_kg,
                c.thickness_m,
                c.thickness_low_m,
                c.thickness_high_m,
                c.surface_bare_K,
                c.surface_last_K,
                c.wet_share,
                c.tar_share,
            ]
            .map(number),
        );
        row.extend([c.kind, c.kind_low, c.kind_high].map(|k| k.word().to_string()));
        out.write_record(&row)?;
    }
    out.into_inner().map_err(|e| e.into_error().into())
}
