//! An invented archive, runs over it, and what they leave.
#![allow(dead_code, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

pub const REPO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");

/// A fresh folder for one test, removed at its end.
pub struct Shop {
    pub dir: PathBuf,
}

impl Shop {
    /// A folder with an archive of so many jobs below `in`: the demo car with two logs a state, each job its own title
    /// and inertia, spread over two years; the last one is refused.
    pub fn with(name: &str, jobs: usize) -> Self {
        let dir = std::env::temp_dir().join(format!("fairpull-archive-{}-{name}", std::process::id()));
        let _ = fs::remove_dir_all(&dir);
        fs::create_dir_all(&dir).unwrap();
        let shop = Self { dir };
        for k in 0..jobs {
            shop.job(k);
        }
        let bad = shop.dir.join("in/2025/refused.job.toml");
        fs::create_dir_all(bad.parent().unwrap()).unwrap();
        fs::write(bad, "schema = \"fairpull-job-1\"\ntitle = \"no car\"\n").unwrap();
        shop
    }

    /// Job number `k`.
    pub fn job(&self, k: usize) -> PathBuf {
        let folder = self.dir.join(format!("in/{}/car-{k:03}", 2025 + k % 2));
        fs::create_dir_all(&folder).unwrap();
        let demo = Path::new(REPO).join("fixtures/demo");
        for log in ["before-1.csv", "before-2.csv", "after-1.csv", "after-2.csv"] {
            fs::copy(demo.join(log), folder.join(log)).unwrap();
        }
        let text = fs::read_to_string(demo.join("job.toml")).unwrap();
        let mut kept = String::new();
        for part in text.split_inclusive("\n\n") {
            if !["-3.csv", "-4.csv"].iter().any(|l| part.contains(l)) {
                kept += part;
            }
        }
        let own = kept.replace("Stage package, invented demo", &format!("Package {k}, invented")).replace(
            "roller_inertia = \"21.5kg.m2\"",
            &format!("roller_inertia = \"{}kg.m2\"", 21.0 + 0.05 * k as f64),
        );
        assert!(own.contains("after-2.csv") && !own.contains("after-3.csv") && own != kept);
        let path = folder.join("job.toml");
        fs::write(&path, own).unwrap();
        path
    }

    pub fn archive(&self) -> PathBuf {
        self.dir.join("in")
    }

    /// `fairpull reduce` of the archive into a folder.
    pub fn command(&self, out: &Path, more: &[&str]) -> Command {
        let mut c = Command::new(env!("CARGO_BIN_EXE_fairpull"));
        c.arg("reduce").arg(self.archive()).arg("--out").arg(out).args(more);
        c.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        c
    }

    pub fn run(&self, out: &Path, more: &[&str]) -> Output {
        self.command(out, more).output().unwrap()
    }

    /// What an undisturbed run leaves.
    pub fn undisturbed(&self) -> BTreeMap<String, Vec<u8>> {
        let out = self.dir.join("undisturbed");
        let o = self.run(&out, &[]);
        assert_eq!(o.status.code(), Some(1), "{}", words(&o));
        tree(&out)
    }
}

impl Drop for Shop {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.dir);
    }
}

/// Both streams of a run.
pub fn words(o: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&o.stdout), String::from_utf8_lossy(&o.stderr))
}

/// Every file below a folder with its bytes.
pub fn tree(dir: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut all = BTreeMap::new();
    let mut folders = vec![dir.to_path_buf()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(dir).unwrap().to_string_lossy().replace('\\', "/");
                all.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    all
}

/// Two trees are the same; says which file is not.
pub fn same(got: &BTreeMap<String, Vec<u8>>, wanted: &BTreeMap<String, Vec<u8>>) {
    let names = |t: &BTreeMap<String, Vec<u8>>| t.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(got), names(wanted));
    for (name, bytes) in wanted {
        assert!(got[name] == *bytes, "{name} differs");
    }
}
