//! stub
#[derive(Clone, Debug, PartialEq)]
pub struct Isbn(String);
pub struct IsbnFault { pub message: String, pub help: String }
impl Isbn {
    pub fn read(text: &str) -> Result<Isbn, IsbnFault> { Ok(Isbn(text.to_owned())) }
    pub fn shown(&self) -> &str { &self.0 }
}
