# A static binary in an image from scratch: no shell, no libraries, a user without rights.
FROM rust:1.95-bookworm AS build
WORKDIR /src
COPY . .
# the C runtime goes into the binary, so that the last image needs nothing
RUN RUSTFLAGS="-C target-feature=+crt-static" \
    cargo build --release --locked --bin berth --target "$(uname -m)-unknown-linux-gnu" \
    && cp "target/$(uname -m)-unknown-linux-gnu/release/berth" /berth

FROM scratch
COPY --from=build /berth /berth
USER 65532:65532
EXPOSE 8080
ENTRYPOINT ["/berth", "serve", "--listen", "0.0.0.0:8080"]
