/// Every page there is, and some there are not.
export const pages = ["plan", "now", "gear", "gear/test", "beds", "record", "record/unsent", "record/trace", "start", "ask", "ask/record/add-compost-lot", "nowhere", "brew/none", "plan/zzz"];
