//! A person's signature on a manifest, as `ssh-keygen -Y sign -n anteroom-release` makes it.
//!
//! In: the signature, the bytes that were signed, the allowed signers and the day. Out: whose it is. Must never take a
//! signature for a person's that could be somebody else's.
//!
//! It shows that whoever holds the key has signed these very bytes. It does not show that they were competent or had read them,
//! and it is no qualified signature in law: what a hospital takes it for, its own rules say.

use ssh_key::public::KeyData;
use ssh_key::{Algorithm, EcdsaCurve, HashAlg, LineEnding, PublicKey, SshSig};

use super::signers::Signers;
use crate::policy::Day;

/// What a signature on a manifest is for, so that one made for something else is none.
pub const NAMESPACE: &str = "anteroom-release";
/// Bytes of a signature file; one by a key of 16,384 bits has some 6,000.
pub const LARGEST: u64 = 64 * 1024;

/// Bits of the shortest RSA key that is taken: NIST SP 800-131A.
const SHORTEST_RSA: usize = 2048;

/// Whose signature it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signed {
    /// Every name of the person by the allowed signers.
    pub by: Vec<String>,
    /// `SHA256:…`, as ssh-keygen tells a key.
    pub key: String,
}

/// `Err`: why it does not count, a clause.
pub fn signed(signature: &[u8], manifest: &[u8], signers: &Signers, day: Day) -> Result<Signed, String> {
    let signature = read(signature).ok_or("it is no signature that ssh-keygen makes")?;
    let key = signature.public_key();
    let print = key.fingerprint(HashAlg::Sha256).to_string();
    is_strong(key)?;
    if signature.namespace() != NAMESPACE {
        return Err(format!("it was made for another purpose; sign with: -n {NAMESPACE}"));
    }
    if PublicKey::from(key.clone()).verify(NAMESPACE, manifest, &signature).is_err() {
        return Err("it is not on this manifest as it is now".to_owned());
    }
    let mut known = signers.of(key).peekable();
    if known.peek().is_none() {
        return Err(format!("its key, {print}, stands in no line of the allowed signers"));
    }
    let may: Vec<_> = known.filter(|signer| signer.may_sign(NAMESPACE)).collect();
    if may.is_empty() {
        return Err(format!("the allowed signers do not let its key sign for {NAMESPACE}"));
    }
    let good: Vec<_> = may.into_iter().filter(|signer| signer.is_good_on(day)).collect();
    if good.is_empty() {
        return Err(format!("by the allowed signers its key is not valid over the whole of {day}"));
    }
    if !good.iter().any(|signer| signer.is_person()) {
        return Err("the allowed signers give a pattern for its key, and a pattern is not one person".to_owned());
    }
    Ok(Signed { by: signers.person(key), key: print })
}

/// Written anew it is the same letters: nothing in it was passed over.
fn read(text: &[u8]) -> Option<SshSig> {
    let signature = SshSig::from_pem(text).ok()?;
    let written = signature.to_pem(LineEnding::LF).ok()?;
    let letters = |text: &[u8]| text.iter().copied().filter(|byte| !byte.is_ascii_whitespace()).collect::<Vec<u8>>();
    (letters(text) == letters(written.as_bytes())).then_some(signature)
}

fn is_strong(key: &KeyData) -> Result<(), String> {
    match (key.algorithm(), key) {
        (Algorithm::Ed25519 | Algorithm::Ecdsa { curve: EcdsaCurve::NistP256 }, _) => Ok(()),
        (_, KeyData::Rsa(rsa)) => {
            let bytes = rsa.n.as_positive_bytes().unwrap_or_default();
            let bits = bytes.len() * 8 - bytes.first().map_or(0, |first| first.leading_zeros() as usize);
            if bits >= SHORTEST_RSA {
                return Ok(());
            }
            Err(format!("its RSA key has {bits} bits, and no fewer than {SHORTEST_RSA} are taken"))
        }
        _ => Err("its key is of a kind that is not taken: make one of ed25519, ecdsa with 256 bits, or rsa".to_owned()),
    }
}
