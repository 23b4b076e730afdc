// Tunes that the bundler puts in as text.
declare module "*.yubifu" {
  const text: string;
  export default text;
}
