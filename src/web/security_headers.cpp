#include "web/security_headers.h"

namespace weighwright::web {

const std::vector<std::pair<std::string, std::string>>& security_headers() {
  static const std::vector<std::pair<std::string, std::string>> kHeaders = {
      {"Content-Security-Policy",
       "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
       "connect-src 'self'; manifest-src 'self'; media-src 'self' data:; base-uri 'none'; "
       "form-action 'none'; frame-ancestors 'none'"},
      {"X-Content-Type-Options", "nosniff"},
      {"X-Frame-Options", "DENY"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cross-Origin-Embedder-Policy", "require-corp"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Permissions-Policy",
       "accelerometer=(), autoplay=(), camera=(), clipboard-read=(), display-capture=(), "
       "fullscreen=(), geolocation=(), gyroscope=(), hid=(), magnetometer=(), microphone=(), "
       "midi=(), payment=(), publickey-credentials-get=(), screen-wake-lock=(self), serial=(), "
       "usb=(), xr-spatial-tracking=()"},
  };
  return kHeaders;
}

}  // namespace weighwright::web
