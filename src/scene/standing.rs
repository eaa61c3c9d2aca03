//! Standing: which version of a cover its pictures show, and whether that is the approved one.

/// Known once a cover is drawn and compared with what was approved.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// The digits by which an approval of the whole cover would hold its look.
    pub look: String,
    pub approval: ApprovalStanding,
}

/// How a cover stands against its approvals; each with the names of whoever gave them.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum ApprovalStanding {
    /// Nobody has stated one.
    #[default]
    NotStated,
    /// Stated, and not yet what it holds.
    Open(String),
    Holds(String),
    Changed(String),
}

impl Standing {
    /// `version 3, look 5a0c9be1, approved by Mirela Anand`.
    pub fn label(&self, version: Option<u32>) -> String {
        let version = version.map_or(String::new(), |version| format!("version {version}, "));
        let approval = match &self.approval {
            ApprovalStanding::NotStated => String::new(),
            ApprovalStanding::Open(by) => format!(", approval by {by} still open"),
            ApprovalStanding::Holds(by) => format!(", approved by {by}"),
            ApprovalStanding::Changed(by) => format!(", changed since the approval by {by}"),
        };
        format!("{version}look {}{approval}", self.look)
    }
}
