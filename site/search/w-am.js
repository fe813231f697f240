bayleaf.words("am",{"amount":"3:j","amounts":"3:l"});
