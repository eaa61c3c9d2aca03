//! A press whose stated condition is not the one that its profile was made for.
//!
//! `condition` names the output condition in the press file, for the printer. The profile names the measurements that it was
//! made from. Where they differ, the press file keeps the name that the profile brings: its colours were converted for that.
//!
//! A warning.
//!
//! Way out: take the condition that the message names, or the profile of the condition that is meant.
