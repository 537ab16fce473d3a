#include "web/certificate.h"

#include <fcntl.h>
#include <openssl/bio.h>
#include <openssl/ec.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/ssl.h>
#include <openssl/x509v3.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <ctime>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <system_error>

#include "web/addresses.h"

namespace weighwright::web {
namespace {

namespace fs = std::filesystem;
using std::string;
using Key = std::unique_ptr<EVP_PKEY, decltype(&EVP_PKEY_free)>;
using Certificate = std::unique_ptr<X509, decltype(&X509_free)>;
using Bytes = std::unique_ptr<BIO, decltype(&BIO_free)>;

constexpr std::size_t kMostNames = 64;
constexpr long kDay_s = 24L * 60 * 60;
// Browsers take no certificate for longer than 398 days (CA/Browser Forum, Baseline Requirements,
// 6.3.2; from memory, unverified); with the day that it begins earlier, for clocks of phones.
constexpr long kDays = 396;

[[noreturn]] void fail(const string& what) {
  throw std::runtime_error(what);
}

Bytes memory(const string& text) {
  return {BIO_new_mem_buf(text.data(), static_cast<int>(text.size())), BIO_free};
}

string text_of(BIO* bytes) {
  char* data = nullptr;
  const long length = BIO_get_mem_data(bytes, &data);
  return {data, static_cast<std::size_t>(length)};
}

string read_file(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

/// Whole or not at all, and never readable by anybody else.
void keep(const fs::path& path, const string& text) {
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  const string made = path.string() + "." + std::to_string(getpid());
  const int file = open(made.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  bool written =
      file >= 0 && ::write(file, text.data(), text.size()) == static_cast<ssize_t>(text.size());
  written = written && fsync(file) == 0;
  if (file >= 0) written = close(file) == 0 && written;
  if (written) fs::rename(made, path, error);
  if (written && !error) return;
  const string why = error ? error.message() : std::strerror(errno);
  unlink(made.c_str());
  fail("the key of this machine can't be kept in " + path.string() + " (" + why +
       "); a place that can be written");
}

Key key_from(const string& pem, const fs::path& path) {
  Key key(PEM_read_bio_PrivateKey(memory(pem).get(), nullptr, nullptr, nullptr), EVP_PKEY_free);
  if (!key) {
    fail(path.string() +
         " holds no key; take the file away, and a new one is made (phones then "
         "ask again)");
  }
  return key;
}

string pem_of(EVP_PKEY* key) {
  const Bytes bytes(BIO_new(BIO_s_mem()), BIO_free);
  if (PEM_write_bio_PKCS8PrivateKey(bytes.get(), key, nullptr, nullptr, 0, nullptr, nullptr) != 1) {
    fail("a key can't be made on this machine");
  }
  return text_of(bytes.get());
}

string pem_of(X509* certificate) {
  const Bytes bytes(BIO_new(BIO_s_mem()), BIO_free);
  if (PEM_write_bio_X509(bytes.get(), certificate) != 1) {
    fail("a certificate can't be made on this machine");
  }
  return text_of(bytes.get());
}

string key_kept_in(const fs::path& path) {
  if (fs::exists(path)) {
    // Somebody may have copied it about: nobody else may read it here.
    std::error_code ignored;
    fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write, ignored);
    return read_file(path);
  }
  const Key key(EVP_EC_gen("P-256"), EVP_PKEY_free);
  if (!key) fail("a key can't be made on this machine");
  const string pem = pem_of(key.get());
  keep(path, pem);
  return pem;
}

/// "IP:192.0.2.7" and "DNS:laptop".
std::vector<string> names_in(X509* certificate) {
  std::vector<string> names;
  auto* const list = static_cast<GENERAL_NAMES*>(
      X509_get_ext_d2i(certificate, NID_subject_alt_name, nullptr, nullptr));
  for (int i = 0; i < sk_GENERAL_NAME_num(list); ++i) {
    const GENERAL_NAME* const name = sk_GENERAL_NAME_value(list, i);
    if (name->type == GEN_DNS) {
      names.push_back("DNS:" +
                      string(reinterpret_cast<const char*>(ASN1_STRING_get0_data(name->d.dNSName)),
                             static_cast<std::size_t>(ASN1_STRING_length(name->d.dNSName))));
    } else if (name->type == GEN_IPADD) {
      ASN1_OCTET_STRING* const bytes = name->d.iPAddress;
      names.push_back("IP:" + figures_of({ASN1_STRING_get0_data(bytes),
                                          static_cast<std::size_t>(ASN1_STRING_length(bytes))}));
    }
  }
  GENERAL_NAMES_free(list);
  return names;
}

void add_extension(X509* certificate, int what, const string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, certificate, certificate, nullptr, nullptr, 0);
  X509_EXTENSION* const extension = X509V3_EXT_conf_nid(nullptr, &context, what, value.c_str());
  if (extension == nullptr) fail("a certificate for \"" + value + "\" can't be made");
  X509_add_ext(certificate, extension, -1);
  X509_EXTENSION_free(extension);
}

string certificate_for(EVP_PKEY* key, const std::vector<string>& names) {
  const Certificate made(X509_new(), X509_free);
  X509* const certificate = made.get();
  X509_set_version(certificate, X509_VERSION_3);
  std::array<unsigned char, 16> serial{};
  RAND_bytes(serial.data(), static_cast<int>(serial.size()));
  serial[0] = static_cast<unsigned char>((serial[0] & 0x7fU) | 0x40U);  // positive, of full length
  BIGNUM* const number = BN_bin2bn(serial.data(), static_cast<int>(serial.size()), nullptr);
  BN_to_ASN1_INTEGER(number, X509_get_serialNumber(certificate));
  BN_free(number);
  X509_gmtime_adj(X509_getm_notBefore(certificate), -kDay_s);  // clocks of phones
  X509_gmtime_adj(X509_getm_notAfter(certificate), kDays * kDay_s);
  X509_NAME* const subject = X509_get_subject_name(certificate);
  const string called = "Weighwright on this machine";
  X509_NAME_add_entry_by_txt(subject, "CN", MBSTRING_UTF8,
                             reinterpret_cast<const unsigned char*>(called.data()),
                             static_cast<int>(called.size()), -1, 0);
  X509_set_issuer_name(certificate, subject);
  X509_set_pubkey(certificate, key);
  add_extension(certificate, NID_basic_constraints, "critical,CA:FALSE");
  add_extension(certificate, NID_key_usage, "critical,digitalSignature");
  add_extension(certificate, NID_ext_key_usage, "serverAuth");
  string all;
  for (const string& name : names) all += (all.empty() ? "" : ",") + name;
  add_extension(certificate, NID_subject_alt_name, all);
  if (X509_sign(certificate, key, EVP_sha256()) == 0) fail("a certificate can't be signed");
  return pem_of(certificate);
}

Certificate certificate_from(const string& pem) {
  return {PEM_read_bio_X509(memory(pem).get(), nullptr, nullptr, nullptr), X509_free};
}

/// From its first day to its last.
long days_of(X509* certificate) {
  int days = 0;
  int seconds = 0;
  if (ASN1_TIME_diff(&days, &seconds, X509_get0_notBefore(certificate),
                     X509_get0_notAfter(certificate)) != 1) {
    return 0;
  }
  return days;
}

/// Of this key, not for longer than may be, for another month, and for all of `names`.
bool serves(X509* certificate, EVP_PKEY* key, const std::vector<string>& names) {
  if (certificate == nullptr || X509_check_private_key(certificate, key) != 1) return false;
  if (days_of(certificate) > kDays + 1) return false;
  time_t in_a_month = time(nullptr) + 30 * kDay_s;
  if (X509_cmp_time(X509_get0_notAfter(certificate), &in_a_month) < 0) return false;
  const std::vector<string> has = names_in(certificate);
  return std::all_of(names.begin(), names.end(), [&](const string& name) {
    return std::find(has.begin(), has.end(), name) != has.end();
  });
}

/// SHA-256 of the key as it stands in the certificate (SubjectPublicKeyInfo, RFC 5280, 4.1): it
/// stays when the certificate is renewed.
string fingerprint_of(EVP_PKEY* key) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned length = 0;
  unsigned char* encoded = nullptr;
  const int size = i2d_PUBKEY(key, &encoded);
  if (size <= 0) fail("the key of this machine can't be shown");
  EVP_Digest(encoded, static_cast<std::size_t>(size), digest.data(), &length, EVP_sha256(),
             nullptr);
  OPENSSL_free(encoded);
  constexpr const char* kHex = "0123456789ABCDEF";
  string text;
  for (unsigned i = 0; i < length; ++i) {
    if (i > 0) text += ':';
    text += kHex[digest[i] >> 4U];
    text += kHex[digest[i] & 15U];
  }
  return text;
}

}  // namespace

Identity own_identity(const fs::path& folder,
                      const std::vector<string>& addresses,
                      const std::vector<string>& hosts) {
  const fs::path key_path = folder / "page-key.pem";
  const fs::path certificate_path = folder / "page-certificate.pem";
  Identity identity;
  identity.key_pem = key_kept_in(key_path);
  const Key key = key_from(identity.key_pem, key_path);
  std::vector<string> names = {"DNS:localhost", "IP:127.0.0.1"};
  for (const string& host : hosts) names.push_back("DNS:" + host);
  for (const string& address : addresses) names.push_back("IP:" + address);
  identity.certificate_pem = read_file(certificate_path);
  Certificate certificate = certificate_from(identity.certificate_pem);
  if (!serves(certificate.get(), key.get(), names)) {
    // Names of other networks stay: back there, nothing changes again.
    for (const string& old : certificate ? names_in(certificate.get()) : std::vector<string>()) {
      if (names.size() < kMostNames && std::find(names.begin(), names.end(), old) == names.end()) {
        names.push_back(old);
      }
    }
    identity.certificate_pem = certificate_for(key.get(), names);
    keep(certificate_path, identity.certificate_pem);
  }
  identity.fingerprint = fingerprint_of(key.get());
  return identity;
}

std::shared_ptr<ssl_ctx_st> tls_of(const Identity& identity) {
  std::shared_ptr<SSL_CTX> tls(SSL_CTX_new(TLS_server_method()), SSL_CTX_free);
  const Key key = key_from(identity.key_pem, "the key");
  const Certificate certificate = certificate_from(identity.certificate_pem);
  if (!tls || !certificate || SSL_CTX_use_certificate(tls.get(), certificate.get()) != 1 ||
      SSL_CTX_use_PrivateKey(tls.get(), key.get()) != 1 ||
      SSL_CTX_set_min_proto_version(tls.get(), TLS1_2_VERSION) != 1) {
    fail("TLS can't be begun on this machine");
  }
  // With TLS 1.2 only what has forward secrecy and authenticated encryption (RFC 9325, 4.2).
  SSL_CTX_set_cipher_list(tls.get(), "ECDHE+AESGCM:ECDHE+CHACHA20");
  SSL_CTX_set_options(tls.get(), SSL_OP_NO_COMPRESSION | SSL_OP_NO_RENEGOTIATION |
                                     SSL_OP_CIPHER_SERVER_PREFERENCE | SSL_OP_NO_TICKET);
  // Fewer buffers a phone: they are given back between records.
  SSL_CTX_set_mode(tls.get(), SSL_MODE_RELEASE_BUFFERS | SSL_MODE_ENABLE_PARTIAL_WRITE |
                                  SSL_MODE_ACCEPT_MOVING_WRITE_BUFFER);
  SSL_CTX_set_session_cache_mode(tls.get(), SSL_SESS_CACHE_OFF);
  return tls;
}

}  // namespace weighwright::web
